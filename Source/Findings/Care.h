#pragma once

#include "Base/Problem.h"
#include "Findings/Weakness.h"
#include "Ladder/Drill.h"

#include <span>
#include <vector>

namespace valveladder {

/// Which cautions a player wants to see, and when. All settable; none is shown while a take runs.
struct CareSettings {
    bool handCheck = true;
    bool restReminder = true;
    bool firmValves = true;
    bool hearing = true;
    double restAfterMinutes = 25.0; ///< of playing without such a rest, leastMinutes..mostPlayedMinutes
    double restMinutes = 5.0;       ///< leastMinutes..mostRestMinutes
    int severalFingers = 3;         ///< slow at once, from which the hand position is asked about again

    static constexpr double leastMinutes = 1.0;
    static constexpr double mostPlayedMinutes = 180.0;
    static constexpr double mostRestMinutes = 60.0;

    bool operator==(const CareSettings&) const = default;
};

/// The settings themselves, or what is out of range.
[[nodiscard]] Result<CareSettings> checked(CareSettings settings);

/// Whether any segment of the drill is to be played with firm valves.
[[nodiscard]] bool asksForFirmValves(const Drill& drill);

struct CareMoment {
    bool takeRuns = false;
    bool firstUse = false;
    double minutesPlayed = 0.0; ///< since the last rest of restMinutes or more
    double minutesSinceReminder = 1e9;
    bool firmSegmentNext = false; ///< the drill asks for firm valves
    bool firmWasShown = false;    ///< in this sitting already
    bool hearingWasShown = false; ///< in this sitting already
    int slowFingers = 0;          ///< slowFingers(weaknesses)
};

enum class CareKind { handCheck, rest, firmValves, hearing };

/// What to show now: nothing while a take runs, the rest reminder at most once every restMinutes.
[[nodiscard]] std::vector<CareKind> careNow(const CareSettings& settings, const CareMoment& moment);

/// Fingers named in claimed findings of slow changes.
[[nodiscard]] int slowFingers(const Weaknesses& weaknesses);

/// A stretch of playing.
struct PlayedSpan {
    std::int64_t startedUtcMs = 0;
    std::int64_t endedUtcMs = 0;
};

/// Minutes of playing since the last pause of `restMinutes` or more, takes oldest first, seen at `nowUtcMs`.
[[nodiscard]] double minutesWithoutRest(std::span<const PlayedSpan> played, std::int64_t nowUtcMs,
                                        double restMinutes);
[[nodiscard]] double minutesWithoutRest(std::span<const TakeEvidence> takes, std::int64_t nowUtcMs,
                                        double restMinutes);

} // namespace valveladder
