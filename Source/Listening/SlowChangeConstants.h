#pragma once

#include <cstddef>

namespace valveladder::slow {

/// The steps of a change that stops half-way lie no further than this beyond the tones on either side; a stop
/// that the contour does not show lasts no longer than this on either side of the edge. Seconds.
inline constexpr double slackSeconds = 0.02;
inline constexpr double hiddenStopSeconds = 0.04;
/// Tones that the contour may show for one stop.
inline constexpr std::size_t mostStops = 3;
/// The tones on either side last at least so long, seconds.
inline constexpr double leastBesideSeconds = 0.04;
/// It is none where one change without a stop fits the sound like this, nor unless the sound fits it at least
/// so well, and so much better than one change without a stop. Mismatches of GlideFitter, 0..1.
inline constexpr double likeOnce = 0.02;
inline constexpr double mostMismatch = 0.2;
inline constexpr double betterThanOnce = 0.6;

} // namespace valveladder::slow
