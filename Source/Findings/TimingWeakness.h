#pragma once

#include "Findings/EffectFit.h"
#include "Findings/Weakness.h"

namespace valveladder {

/// Scale on which the player's own spread is most even.
enum class Scale { milliseconds, logarithm };

/// The likelier of two members of the power family (Box & Cox, "An Analysis of Transformations", JRSS B 26,
/// 1964), given each take's own level.
[[nodiscard]] Scale likelierScale(const ObservationTable& table);

/// The choice is made on this many takes at most, spread evenly over the log.
inline constexpr int takesForScale = 50;

/// Changeovers below this are taken for it where logarithms are taken, ms.
inline constexpr double leastLogMs = 5.0;

struct TimingResult {
    std::vector<Finding> claimed;
    std::vector<Finding> leads;
};

/// Slow or late changes: suspects are taken up one by one, each only if the largest t of all suspects would
/// rarely be so large by chance. A change lasts as long as its slowest finger, so a change already explained
/// says nothing of its other fingers, and effects named together do not add up: the largest holds.
[[nodiscard]] TimingResult timingWeaknesses(const ObservationTable& table, Complaint complaint, double alpha,
                                            const FindingLimits& limits, std::uint64_t seed);

/// 90 % interval of an effect by resampling: whole takes where ten or more show it, else the segments within
/// takes, with a take-to-take spread that leans on an assumed third of the effect until takes tell it.
struct EffectInterval {
    double low = 0.0;
    double high = 0.0;
};
[[nodiscard]] EffectInterval resampledInterval(const ObservationTable& table, const EffectFit& fit,
                                               int column, std::uint64_t seed);

/// Spread of an effect from take to take, units of y, estimated from `takes` by moments; 0 with under two.
[[nodiscard]] double takeToTakeSpread(const ObservationTable& table, const EffectFit& fit, int column);

namespace resampling {
inline constexpr int wholeTakesFrom = 10;
inline constexpr double assumedTakeSpread = 1.0 / 3.0; ///< of the effect; ours, no source
inline constexpr double assumedTakes = 8.0;            ///< the assumption weighs as much as so many takes
inline constexpr int draws = 2000;
} // namespace resampling

} // namespace valveladder
