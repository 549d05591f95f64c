#pragma once

namespace valveladder {

// Intervals of equal temperament.

inline constexpr int semitonesAnOctave = 12;

/// Of two frequencies so many semitones apart: 2^(semitones/12).
[[nodiscard]] double frequencyRatio(double semitones);
/// The reverse: 12 * log2(ratio). `ratio` must be positive.
[[nodiscard]] double semitonesOf(double ratio);
/// The same in cents: 1200 * log2(ratio).
[[nodiscard]] double centsOf(double ratio);

} // namespace valveladder
