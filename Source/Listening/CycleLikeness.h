#pragma once

#include <span>

namespace valveladder {

/// Likeness, -1..1, of the `window` samples centred on `place` with those one `period` earlier: the best over
/// small changes of the period (2 %), loudness left out. -1 where the sound does not reach.
[[nodiscard]] double cycleLikeness(std::span<const float> sound, double place, double period, double window);

} // namespace valveladder
