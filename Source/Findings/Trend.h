#pragma once

#include "Findings/Weakness.h"

#include <span>
#include <vector>

namespace valveladder {

/// What a suspect costs on one practice day, against the player's own other changes that day.
struct TrendPoint {
    std::int64_t day = 0;
    Estimate extra; ///< slow, late, uneven: ms; wrong: percent of notes. n = changes
    int takes = 0;
    double standardError = 0.0; ///< of extra, from the scatter that all days share, so that it does not go
                                ///< with the value
};

/// Which way a weakness went, as sure as 90 % can be.
enum class Course { better, worse, steady };

/// How a weakness went over the days.
struct Trend {
    Suspect suspect;
    Complaint complaint = Complaint::slow; ///< the measure followed
    std::vector<TrendPoint> days;          ///< oldest first, days on which it was measured
    Estimate first;                        ///< extra in the first third of the days, taken together
    Estimate recent;                       ///< and in the last third
    Estimate perWeek;                      ///< slope over days; n = days
    double p = 1.0;                        ///< of the slope, two-sided, not adjusted
    bool resolved = false; ///< was a problem (first.low over 0) and no longer is: recent.high under the
                           ///< least worth naming

    [[nodiscard]] Course course() const;
};

inline constexpr int leastTrendDays = 4;

/// Slope of values over days with their standard errors, by random-effects meta-regression: what days differ
/// by beyond their errors is estimated by moments and added to them (DerSimonian & Laird, "Meta-Analysis in
/// Clinical Trials", 1986), the interval is Student's on the weighted residuals (Hartung & Knapp, "A Refined
/// Method for the Meta-Analysis of Controlled Clinical Trials with Binary Outcome", Statistics in Medicine
/// 20, 2001). Units of extra a week. Precondition: leastTrendDays points or more, on different days.
[[nodiscard]] Estimate slopePerWeek(const std::vector<TrendPoint>& days, double* p = nullptr);

/// The suspect's trend by one measure; no days when it was not measured on leastTrendDays days or more.
[[nodiscard]] Trend trendOf(std::span<const TakeEvidence> takes, const Suspect& suspect, Complaint complaint,
                            const FindingLimits& limits = {});

/// Trends of all that is a weakness, or was one in the first half of the days.
[[nodiscard]] std::vector<Trend> trendsIn(std::span<const TakeEvidence> takes, const Weaknesses& now,
                                          const FindingLimits& limits = {},
                                          std::uint64_t seed = findingsSeed);

} // namespace valveladder
