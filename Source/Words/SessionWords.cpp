#include "Words/SessionWords.h"

#include "Words/TempoWords.h"

#include <fmt/format.h>

namespace valveladder::words {

std::string otherTempo(bool hostLeads, double playedBpm, double plannedBpm) {
    return fmt::format("The {} is at {}, this take is planned at {}", hostLeads ? "host" : "clock",
                       tempoText(playedBpm), tempoText(plannedBpm));
}

std::string guideRanAt(double playedBpm, double plannedBpm) {
    return fmt::format("The guide ran at {}, this take was planned at {}.", tempoText(playedBpm),
                       tempoText(plannedBpm));
}

std::string soundMissing(double ms) {
    return fmt::format("{:.0f} ms of sound are missing and count as silence", ms);
}

std::string soundNotKept(double keptSeconds, const Problem& why) {
    if (keptSeconds <= 0.0)
        return "The sound of this take is not kept. " + why.text();
    return fmt::format("The sound of this take is kept only up to {:.1f} s. {}", keptSeconds, why.text());
}

std::string oldestSoundRemoved(const std::string& file) {
    return "The oldest kept sound made room: " + file + " was removed";
}

std::string roundTripMeasured(double ms, std::optional<double> byHandMs) {
    if (!byHandMs)
        return fmt::format("The round trip is {:.1f} ms; later takes of sound are corrected by it", ms);
    return fmt::format("The round trip was measured as {:.1f} ms, but {:.1f} ms are set by hand and lead: "
                       "set that to 0 to use what was measured",
                       ms, *byHandMs);
}

std::string defaultUsed(const Problem& why) {
    return why.text() + " (the default is used instead)";
}

} // namespace valveladder::words
