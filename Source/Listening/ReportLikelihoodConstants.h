#pragma once

#include "Listening/ReportLikelihood.h"

#include <array>

namespace valveladder::reportlikelihood {

/// By WeighedAs, in the order of featuresOf(); natural log odds. Written by `valveladder_tuning likelihood`.
inline constexpr std::array<ReportFeatures, weighedKinds> weights{{
    {3.28, -0.16, 0.08, 0.14, 0.01, 0.13, 0.62, 0.00, 0.00, -1.44},    // wrong
    {-0.94, -0.50, 0.91, 1.08, -0.36, -0.64, 2.45, 0.00, 0.01, -0.41}, // missed
    {0.58, 1.27, 0.14, 0.19, -0.11, 1.55, -0.97, 0.00, 2.56, -0.05},   // spoke
    {2.78, 1.62, 1.31, -0.08, 0.62, 1.03, -2.01, 0.00, 0.00, 1.32},    // breath
    {1.93, -1.50, 1.84, 0.13, 0.09, -0.40, 0.35, 0.00, 0.05, -0.13},   // extra
}};
/// Of late fingers.
inline constexpr LateFeatures lateWeights{-2.81, 0.06, -0.54, 2.24};

} // namespace valveladder::reportlikelihood
