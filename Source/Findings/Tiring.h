#pragma once

#include "Findings/Suspect.h"

#include <optional>
#include <span>
#include <vector>

namespace valveladder {

/// How changes get slower or less even with the minutes played in a sitting.
struct Tiring {
    std::optional<Suspect> finger; ///< one finger's effect against all others; nothing = the hand as a whole
    bool evenness = false;         ///< the spread of inter-onset intervals instead of changeovers
    Estimate perTenMinutes;        ///< changeovers: ms; evenness: ms of spread. n = takes
    double p = 1.0;                ///< two-sided, adjusted for all that were tried (Holm)
    bool claimed = false;
};

namespace tiring {
inline constexpr double sittingGapMinutes = 30.0; ///< a longer pause begins a new sitting (ours)
inline constexpr int leastTakes = 6;
inline constexpr double leastMinutes = 5.0; ///< of playing between the first and last take of a sitting
} // namespace tiring

/// Minutes played in the sitting before each take.
[[nodiscard]] std::vector<double> minutesBefore(std::span<const TakeEvidence> takes);

/// The hand as a whole (changeovers, evenness) first, then each finger that was measured, for takes oldest
/// first. Empty when no sitting is long enough. The tempo of a take counts as its own cause; where tempo and
/// minutes rise together throughout, nothing can be said and p is 1.
[[nodiscard]] std::vector<Tiring> tiringIn(std::span<const TakeEvidence> takes);

} // namespace valveladder
