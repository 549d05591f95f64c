#pragma once

#include "Listening/RearticulationEvidence.h"

namespace valveladder::rearticulation {

/// In the order of RearticulationEvidence::features(); natural log odds. `valveladder_tuning rearticulations`
/// writes this header anew from the tuning parts.
inline constexpr RearticulationFeatures weights{-10.43, 2.88, 1.70, 1.17, 0.75, -1.16};

} // namespace valveladder::rearticulation
