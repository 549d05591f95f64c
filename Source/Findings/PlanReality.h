#pragma once

#include "Findings/Evidence.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace valveladder {

/// What was planned and what was played on one practice day with one drill.
struct PlanDay {
    std::int64_t day = 0; ///< days since 1970-01-01
    std::string drillName;
    int takes = 0;
    int whole = 0;
    int passed = 0;
    double plannedLow = 0.0, plannedHigh = 0.0; ///< bpm, quarters a minute
    double playedLow = 0.0, playedHigh = 0.0;
    int offPlan = 0;               ///< takes that were slower than planned, and do not count for the plan
    std::optional<double> heldBpm; ///< fastest tempo at which a take was passed
};

struct PlanReality {
    std::vector<PlanDay> days;            ///< oldest first; several drills of a day apart
    int daysInRange = 0;                  ///< calendar days from the first to the last
    std::vector<std::int64_t> missedDays; ///< days of the range without a take
    std::optional<double> heldBpm;        ///< fastest passed over all
};

[[nodiscard]] PlanReality planAgainstReality(std::span<const TakeEvidence> takes);

/// "2024-03-04" of a day number.
[[nodiscard]] std::string dayName(std::int64_t day);

} // namespace valveladder
