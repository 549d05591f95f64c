#pragma once

#include "Listening/RearticulationEvidence.h"

namespace valveladder::rearticulation {

/// In the order of RearticulationEvidence::features(); natural log odds. `valveladder_tuning rearticulations`
/// writes this header anew from the tuning parts.
inline constexpr RearticulationFeatures weights{-13.41, 2.83, 11.29, 0.83, -1.28};

} // namespace valveladder::rearticulation
