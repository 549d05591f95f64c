#pragma once

#include "Findings/EffectFit.h"

#include <cstdint>
#include <vector>

namespace valveladder {

namespace resampling {
inline constexpr int wholeTakesFrom = 10;
inline constexpr int draws = 2000;
} // namespace resampling

/// 90 % interval of an effect. Where ten takes or more show it, by resampling whole takes, so that what
/// differs from take to take counts; else of the effect in just these takes, by Student's t.
struct EffectInterval {
    double low = 0.0;
    double high = 0.0;
};
[[nodiscard]] EffectInterval effectInterval(const ObservationTable& table, const EffectFit& fit, int column,
                                            std::uint64_t seed);

/// The middle 90 % of what resampling drew.
[[nodiscard]] EffectInterval middleOf(const std::vector<double>& draws);

/// Spread of an effect from take to take, units of y, estimated from `takes` by moments; 0 with under two.
[[nodiscard]] double takeToTakeSpread(const ObservationTable& table, const EffectFit& fit, int column);

} // namespace valveladder
