#pragma once

#include <algorithm>
#include <cmath>
#include <span>

namespace valveladder {

/// Highest sample, either way, full scale = 1; 0 of no sound.
[[nodiscard]] inline float peak(std::span<const float> sound) {
    float highest = 0.0F;
    for (const float sample : sound)
        highest = std::max(highest, std::abs(sample));
    return highest;
}

} // namespace valveladder
