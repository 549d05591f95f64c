#pragma once

#include "Base/Problem.h"

#include <optional>
#include <string>

/// What the live session tells while it runs, and what stands with a take because of it. A log keeps these
/// texts as they were told.
namespace valveladder::words {

// The plan and the clock.
/// "The host is at 66, this take is planned at 68".
[[nodiscard]] std::string otherTempo(bool hostLeads, double playedBpm, double plannedBpm);
/// Of a recording: "The guide ran at 66, this take was planned at 68."
[[nodiscard]] std::string guideRanAt(double playedBpm, double plannedBpm);

// Takes.
inline constexpr const char* rateChanged = "The sample rate changed: the take ends there";
inline constexpr const char* emptyTakeDropped = "A take in which nothing was played was dropped";
inline constexpr const char* takeCutShort =
    "The take was cut short; it is kept, and does not count for the plan";
/// How a finished take ended. `measured`: something of it was; a take of which nothing was neither passes
/// nor fails.
[[nodiscard]] inline const char* verdict(bool whole, bool passed, bool measured) {
    return !whole ? "cut short" : !measured ? "kept, not measured" : passed ? "passed" : "not passed";
}
inline constexpr const char* programEnded =
    "the program ended before this take did: what was played is not known";
inline constexpr const char* guideCameBack =
    "Our own guide came back by MIDI and was left out: it is not counted as played";
[[nodiscard]] std::string soundMissing(double ms); ///< that counts as silence

// Kept sound.
/// `keptSeconds`: of it are kept; 0 = nothing.
[[nodiscard]] std::string soundNotKept(double keptSeconds, const Problem& why);
[[nodiscard]] std::string oldestSoundRemoved(const std::string& file);

// The round trip, notes and the log.
/// Measured; `byHandMs` leads over it.
[[nodiscard]] std::string roundTripMeasured(double ms, std::optional<double> byHandMs);
inline constexpr const char* roundTripNotLogged =
    "The log cannot be written now: the round trip holds until the program ends";
inline constexpr const char* noteNotKept = "The note was not kept: the log cannot be written now";
inline constexpr const char* correctionNotKept = "What you said was not kept: the log cannot be written now";
inline constexpr const char* logWritesAgain = "The log takes writing again; all waiting takes are in it";
/// A configuration was refused.
[[nodiscard]] std::string defaultUsed(const Problem& why);

} // namespace valveladder::words
