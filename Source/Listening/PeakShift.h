#pragma once

namespace valveladder {

/// From the middle of three values a sample apart to the vertex of the parabola through them, in samples,
/// later = positive; 0 where they have no peak. Where the middle is the highest it lies within half a sample.
template <class Number>
[[nodiscard]] constexpr Number peakShift(Number left, Number middle, Number right) {
    const Number curve = left - Number(2) * middle + right;
    return curve < Number(0) ? Number(0.5) * (left - right) / curve : Number(0);
}

} // namespace valveladder
