#pragma once

#include <cstddef>
#include <span>

namespace valveladder {

/// Correlation, -1..1, of the `count` samples from `fixed` to as many from `moving`, moved by up to `slack`
/// samples either way: the best, loudness left out. -1 where the sound does not reach.
[[nodiscard]] double bestCorrelation(std::span<const float> sound, std::ptrdiff_t fixed,
                                     std::ptrdiff_t moving, std::size_t count, std::ptrdiff_t slack);

/// Share of the period by which a held tone strays.
inline constexpr double strayShare = 0.02;

/// Correlation, -1..1, of the `window` samples centred on `place` with those one `period` earlier: the best
/// over changes of the period by `stray` of it, loudness left out. -1 where the sound does not reach.
[[nodiscard]] double cycleCorrelation(std::span<const float> sound, double place, double period,
                                      double window, double stray = strayShare);

} // namespace valveladder
