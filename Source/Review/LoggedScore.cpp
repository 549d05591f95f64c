#include "Review/LoggedScore.h"

#include "Records/Json.h"

namespace valveladder {

Result<LoggedScore> loggedScore(const TakeHeader& header, double bpm) {
    auto instrument = instrumentFromJson(header.instrumentJson);
    if (!instrument)
        return instrument.problem();
    auto drill = drillFromJson(header.drillJson);
    if (!drill)
        return drill.problem();
    auto score = buildScore(drill.value(), instrument.value(), bpm);
    if (!score)
        return score.problem();
    return LoggedScore{std::move(instrument.value()), std::move(drill.value()), std::move(score.value())};
}

Result<LoggedScore> loggedScore(const TakeRecord& take) {
    return loggedScore(take.header, take.playedBpm > 0.0 ? take.playedBpm : take.header.plannedBpm);
}

} // namespace valveladder
