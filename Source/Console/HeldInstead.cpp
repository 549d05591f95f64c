#include "Console/HeldInstead.h"

#include "Base/Path.h"
#include "Base/Sentence.h"
#include "Review/LogEvidence.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace valveladder::console {

namespace {

constexpr const char* beginsOne = "'valve-ladder assess ... --keep' puts takes into it; --log names another.";

/// "a, b and c"; the first few where there are many.
std::string listed(const std::vector<std::string>& entries) {
    constexpr std::size_t most = 6;
    if (entries.size() <= most)
        return joinedWithAnd(entries);
    return joined({entries.begin(), entries.begin() + most}) + " and more";
}

std::string takesText(int takes, bool invented) {
    return fmt::format("({}{})", counted(takes, "take"), invented ? ", invented" : "");
}

/// Each drill of the player's on each instrument.
Result<std::vector<std::string>> drillsOf(const LogStore& log, const std::string& player) {
    TakeFilter filter;
    filter.player = player;
    const auto takes = log.takes(filter);
    if (!takes)
        return takes.problem();
    std::map<std::tuple<std::string, std::string, bool>, int> drills;
    for (const TakeSummary& take : takes.value())
        ++drills[{take.header.drillName, take.header.instrumentId, take.header.invented}];
    std::vector<std::string> entries;
    for (const auto& [drill, count] : drills)
        entries.push_back(fmt::format("'{}' on {} {}", std::get<0>(drill), std::get<1>(drill),
                                      takesText(count, std::get<2>(drill))));
    return entries;
}

Result<std::vector<std::string>> playersOf(const LogStore& log) {
    const auto players = playersIn(log);
    if (!players)
        return players.problem();
    std::vector<std::string> entries;
    for (const LogPlayer& one : players.value())
        entries.push_back(fmt::format("{} on {} {}", one.newest.player, one.newest.instrumentId,
                                      takesText(one.takes, one.newest.invented)));
    return entries;
}

} // namespace

Result<HeldInstead> heldInstead(const LogOptions& options, const std::string& player) {
    const std::string path = pathText(options.path());
    std::error_code error;
    if (!std::filesystem::exists(options.path(), error))
        return HeldInstead{fmt::format("There is no log yet at {}: {}", path, beginsOne), false};
    const auto log = options.openToRead();
    if (!log)
        return log.problem();
    const auto drills = drillsOf(*log.value(), player);
    if (!drills)
        return drills.problem();
    if (!drills.value().empty())
        return HeldInstead{fmt::format("{} holds of {}: {}.", path, player, listed(drills.value())), true};
    const auto players = playersOf(*log.value());
    if (!players)
        return players.problem();
    if (players.value().empty())
        return HeldInstead{fmt::format("{} holds no take yet: {}", path, beginsOne), false};
    return HeldInstead{
        fmt::format("{} holds no take of {}, but of {}. Name one with --player, or another log "
                    "with --log.",
                    path, player, listed(players.value())),
        false};
}

} // namespace valveladder::console
