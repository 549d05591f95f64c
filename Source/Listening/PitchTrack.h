#pragma once

#include "Listening/Envelope.h"

#include <span>
#include <vector>

namespace valveladder {

/// The period of the sound about one moment.
struct TrackPoint {
    double place = 0.0;  ///< samples into the sound
    double cents = 0.0;  ///< above the pitch of the first period given
    double weight = 0.0; ///< 0..1, how well the sound repeats
};

/// Follows a bending pitch with the shortest window that can tell it: one cycle compared with the next, every
/// `step` samples in [from, to). Periods in samples; only those between the two (and 4 % beyond) are tried.
[[nodiscard]] std::vector<TrackPoint> trackPitch(std::span<const float> sound, const Envelope& envelope,
                                                 double from, double to, double step, double period1,
                                                 double period2);

} // namespace valveladder
