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

/// The model of a table with the noise that its own residuals tell, beside circumstances, or beside nothing.
[[nodiscard]] EffectModel modelOf(const ObservationTable& table, const std::vector<double>& y);
[[nodiscard]] EffectModel plainModelOf(const ObservationTable& table, const std::vector<double>& y);

} // namespace valveladder
