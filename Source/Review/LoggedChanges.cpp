#include "Review/LoggedChanges.h"

#include "Log/LoggedPlan.h"

#include <optional>
#include <utility>

namespace valveladder {

namespace {

constexpr int newestTakes = 50;

/// Of the newest takes that `filter` wants; nothing where there are none.
Result<std::optional<OwnChanges>> changesOf(const LogStore& log, TakeFilter filter) {
    std::optional<OwnChanges> own;
    filter.newest = newestTakes;
    const auto take = [&own](const TakeRecord& record) {
        if (!own)
            own.emplace();
        own->add(record.performance);
        return true;
    };
    const auto read =
        log.forEachTake(filter, take, {.notes = false, .extras = false, .changes = true, .segments = false});
    return read ? Result<std::optional<OwnChanges>>(std::move(own)) : read.problem();
}

} // namespace

Result<OwnChanges> loggedChanges(const LogStore& log, const std::string& player,
                                 const std::string& instrumentId) {
    const auto read = [&](bool invented) {
        return changesOf(log, playerFilter(player, instrumentId, invented));
    };
    auto own = realBeforeInvented(read, [](const std::optional<OwnChanges>& changes) { return !changes; });
    if (!own)
        return own.problem();
    return std::move(own.value()).value_or(OwnChanges{});
}

} // namespace valveladder
