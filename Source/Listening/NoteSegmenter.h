#pragma once

#include "Listening/PitchContour.h"

#include <span>
#include <vector>

namespace valveladder {

/// A stretch of the contour on one pitch; frames [first, last) of the span given.
struct Stretch {
    int first = 0;
    int last = 0;
    double midi = 0.0; ///< median of its voiced frames
    double periodicity = 0.0;
    double level = 0.0;
    double drift = 0.0; ///< semitones a frame, over its middle half

    [[nodiscard]] int frames() const { return last - first; }
};

/// Cuts a contour into stretches of steady pitch: piecewise-constant fit in half semitones with a price on
/// every cut (a Potts model solved by dynamic programming), tuning-free. Stretches without pitch are left
/// out; ones that differ by less than mergeCents and touch are one.
[[nodiscard]] std::vector<Stretch> segmentContour(std::span<const ContourFrame> frames);

} // namespace valveladder
