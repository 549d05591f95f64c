#pragma once

#include "Listening/PitchContour.h"

#include <cstdint>
#include <span>

namespace valveladder {

/// A stretch of contour between silences, and where it lies in the stream of samples.
struct Phrase {
    std::span<const ContourFrame> frames;
    std::int64_t firstCentre = 0; ///< sample in the middle of the first frame
    int hop = 1;                  ///< samples a frame
    std::int64_t earliest = 0;    ///< sample before which no note of it begins: the end of the phrase before
};

} // namespace valveladder
