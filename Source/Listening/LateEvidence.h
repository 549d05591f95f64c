#pragma once

namespace valveladder {

/// What the sound shows of fingers that came late.
struct LateEvidence {
    double apartSeconds = 0.0; ///< from the first step of the change to the second
    double mismatch = 1.0;     ///< how ill this order fits the sound, 0..1
    double rivalRatio = 10.0;  ///< how much worse the best other order fits; 10 where there is none
};

} // namespace valveladder
