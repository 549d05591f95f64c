#include "Review/LoggedChanges.h"

namespace valveladder {

namespace {

constexpr int newestTakes = 50;

} // namespace

Result<OwnChanges> loggedChanges(const LogStore& log, const std::string& player,
                                 const std::string& instrumentId) {
    OwnChanges own;
    TakeFilter filter;
    filter.player = player;
    filter.instrumentId = instrumentId;
    filter.newest = newestTakes;
    const auto take = [&own](const TakeRecord& record) {
        own.add(record.performance);
        return true;
    };
    const auto read =
        log.forEachTake(filter, take, {.notes = false, .extras = false, .changes = true, .segments = false});
    return read ? Result<OwnChanges>(std::move(own)) : read.problem();
}

} // namespace valveladder
