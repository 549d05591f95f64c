#pragma once

#include "Listening/ReportLikelihood.h"

#include <array>

namespace valveladder::reportlikelihood {

/// By WeighedAs, in the order of featuresOf(). Natural log odds.
inline constexpr std::array<ReportFeatures, weighedKinds> weights{{
    {2.0},
    {2.0},
    {2.0},
    {2.0},
    {2.0},
}};

inline constexpr LateFeatures lateWeights{2.0};

} // namespace valveladder::reportlikelihood
