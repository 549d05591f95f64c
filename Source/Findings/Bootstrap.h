#pragma once

#include "Listening/Estimates.h"
#include "Listening/Performance.h"

#include <cstdint>
#include <functional>
#include <vector>

namespace valveladder {

/// Every interval stated is of this share, its ends at 5 % and 95 %.
inline constexpr double intervalShare = 1.0 - 2.0 * intervalTail;
inline constexpr int defaultResamples = 2000;

using Statistic = std::function<double(const std::vector<double>&)>;

/// Bias-corrected and accelerated bootstrap interval of `statistic` (Efron, "Better Bootstrap Confidence
/// Intervals", JASA 82, 1987; the acceleration from the jackknife). Deterministic for a seed. With fewer than
/// two values the interval is the value itself.
[[nodiscard]] Estimate bcaInterval(const std::vector<double>& values, const Statistic& statistic,
                                   std::uint64_t seed, int resamples = defaultResamples,
                                   double share = intervalShare);

/// The BCa end at `share` (0..1) of replicates already drawn.
[[nodiscard]] double bcaEnd(const std::vector<double>& replicates, double estimate, double acceleration,
                            double share);

} // namespace valveladder
