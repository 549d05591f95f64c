#pragma once

#include <optional>
#include <span>

namespace valveladder {

/// The period of a steady tone in samples, from its correlation over one, two, four ... periods, each lag's
/// peak guiding the next; nothing when the tone does not repeat. `guess` in samples, right within 4 %;
/// `maxLag` in samples bounds the longest comparison, so that a drifting tone is not smeared.
[[nodiscard]] std::optional<double> refinePeriod(std::span<const float> tone, double guess, double maxLag);

/// The period at `place` (samples into the sound), for tones that bend: refinePeriod over `window` samples
/// about it.
[[nodiscard]] std::optional<double> periodAt(std::span<const float> sound, double place, double window,
                                             double guess);

} // namespace valveladder
