#pragma once

#include "Listening/ReportLikelihood.h"

#include <array>

namespace valveladder::reportlikelihood {

/// By WeighedAs, in the order of featuresOf(); natural log odds. Written by `valveladder_tuning likelihood`.
inline constexpr std::array<ReportFeatures, weighedKinds> weights{{
    {2.15, -0.19, -0.07, 0.03, -0.78, -0.09, 1.34, 0.00, -0.91}, // wrong
    {-1.29, -0.68, 0.84, 1.54, -0.17, -0.69, 2.59, 0.01, -0.45}, // missed
    {0.87, 1.23, 0.16, 0.18, 0.09, 1.22, -1.01, 2.75, -0.08},    // spoke
    {3.01, 1.77, 1.37, -0.06, 0.61, 1.10, -2.09, 0.00, 1.42},    // breath
    {1.93, -1.50, 1.85, 0.13, 0.09, -0.39, 0.35, 0.05, -0.13},   // extra
}};
/// Of late fingers.
inline constexpr LateFeatures lateWeights{-2.81, 0.06, -0.54, 2.24};

} // namespace valveladder::reportlikelihood
