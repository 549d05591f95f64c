#pragma once

#include <vector>

namespace valveladder {

/// Of a normal distribution: its standard deviation over its median absolute deviation, 1 / (third quartile
/// of the standard normal), as in R's stats::mad.
inline constexpr double madToSigma = 1.4826;

/// Quantile by linear interpolation, definition 7 of Hyndman & Fan, "Sample Quantiles in Statistical
/// Packages", The American Statistician 50 (1996). `share` 0..1; 0 of nothing.
[[nodiscard]] double quantile(std::vector<double> values, double share);

/// The quantile at one half. Precondition: not empty.
[[nodiscard]] double median(std::vector<double> values);

/// madToSigma * median |x - median|. Precondition: not empty.
[[nodiscard]] double scaledMad(std::vector<double> values);

/// Huber's psi: the residual, held within +-limit (Huber, "Robust Estimation of a Location Parameter", 1964).
[[nodiscard]] double huberPsi(double residual, double limit);

} // namespace valveladder
