#include "Support/SimulatedLog.h"

#include "Records/Json.h"

#include <algorithm>

namespace valveladder::simulated {

TakeRecord recordOf(Player& player, const Practice& practice, int take) {
    constexpr double stepBpm = 2.0, ceilingBpm = 132.0, minutesATake = 3.0;
    const double bpm = std::min(ceilingBpm, practice.firstBpm + stepBpm * (take / practice.perDay));
    const TakeFacts facts = factsOf(take, bpm, practice.perDay);
    const Score score = buildScore(practice.drill, practice.instrument, bpm).value();
    TakeRecord record;
    record.header.id = practice.player + "-" + std::to_string(take);
    record.header.player = practice.player;
    record.header.instrumentId = practice.instrument.id;
    record.header.instrumentJson = toJson(practice.instrument);
    record.header.drillName = practice.drill.name;
    record.header.drillJson = toJson(practice.drill);
    record.header.startedUtc = facts.startedUtcMs;
    record.header.timeZone = "Etc/UTC";
    record.header.plannedBpm = bpm;
    record.header.invented = practice.invented;
    record.endedUtc = facts.endedUtcMs;
    record.playedBpm = record.playedBpmLow = record.playedBpmHigh = bpm;
    record.clock = "own";
    record.performance =
        player.play(practice.drill, practice.instrument, score, minutesATake * (take % practice.perDay));
    record.passed = record.performance.count(Outcome::wrong) == 0;
    return record;
}

Result<Done> keepPractice(LogStore& log, Player& player, const Practice& practice) {
    for (int take = 0; take < practice.takes; ++take)
        if (auto kept = log.finishTake(recordOf(player, practice, take)); !kept)
            return kept;
    return Done{};
}

} // namespace valveladder::simulated
