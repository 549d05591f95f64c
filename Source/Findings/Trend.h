#pragma once

#include "Findings/Weakness.h"

#include <span>
#include <vector>

namespace valveladder {

/// A suspect's extra changeover time on one practice day, against the player's own other changes that day.
struct TrendPoint {
    std::int64_t day = 0;
    Estimate extraMs; ///< n = changes
    int takes = 0;
};

/// How a weakness went over the days.
struct Trend {
    Suspect suspect;
    std::vector<TrendPoint> days; ///< oldest first, days on which it was measured
    Estimate first;               ///< extra ms in the first third of the days, taken together
    Estimate recent;              ///< and in the last third
    Estimate perWeekMs;           ///< slope over days; n = days
    double p = 1.0;               ///< of the slope, two-sided, not adjusted
    bool resolved = false; ///< was a problem (first.low over 0) and no longer is: recent.high under the
                           ///< least time worth naming
};

inline constexpr int leastTrendDays = 4;

/// The suspect's trend; no days when it was not measured on leastTrendDays days or more.
[[nodiscard]] Trend trendOf(std::span<const TakeEvidence> takes, const Suspect& suspect,
                            const FindingLimits& limits = {}, std::uint64_t seed = findingsSeed);

/// Trends of all that is, or in the first half of the days was, a weakness of changeovers.
[[nodiscard]] std::vector<Trend> trendsIn(std::span<const TakeEvidence> takes, const Weaknesses& now,
                                          const FindingLimits& limits = {},
                                          std::uint64_t seed = findingsSeed);

} // namespace valveladder
