#pragma once

#include "Listening/ReportLikelihood.h"

#include <array>

namespace valveladder::reportlikelihood {

/// By WeighedAs, in the order of featuresOf(); natural log odds. Written by `valveladder_tuning likelihood`.
inline constexpr std::array<ReportFeatures, weighedKinds> weights{{
    {3.23, -0.13, 0.08, 0.14, 0.01, 0.13, 0.60, 0.00, 0.00, -1.43},    // wrong
    {-0.92, -0.47, 0.84, 0.91, -0.37, -0.71, 2.42, 0.00, 0.01, -0.46}, // missed
    {0.57, 1.22, 0.17, 0.19, -0.06, 1.50, -0.97, 0.00, 2.48, -0.05},   // spoke
    {3.12, 1.67, 1.40, 0.06, 0.34, 1.17, -1.97, 0.00, 0.00, 1.63},     // breath
    {2.05, -1.41, 1.82, 0.10, 0.07, -0.41, 0.26, 0.00, 0.00, -0.14},   // extra
}};
/// Of late fingers.
inline constexpr LateFeatures lateWeights{-2.81, 0.06, -0.54, 2.24};

} // namespace valveladder::reportlikelihood
