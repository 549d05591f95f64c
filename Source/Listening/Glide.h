#pragma once

#include "Listening/BendShape.h"
#include "Listening/PitchPath.h"

namespace valveladder {

/// A change of pitch without a break, as it fits the sound best. Places and lengths in samples.
struct Glide {
    double centre = 0.0; ///< half-way between leaving the first pitch and reaching the second
    double length = 0.0; ///< from leaving the first pitch to reaching the second, as BendShape.h defines it
    BendShape shape = BendShape::straight;
    double deviationCents = 0.0; ///< of the pitch from the shape, root mean square
    double residual =
        1.0; ///< 0 = the sound repeats from cycle to cycle as well within as outside, 1 = not at all

    /// The place of one of its shape's points.
    [[nodiscard]] double placeOf(const BendPoint& point) const {
        return centre + (point.time - 0.5) * length;
    }
};

/// The pitch of a glide over time, from frequency f1 to f2 (cycles a sample).
[[nodiscard]] PitchPath glidePath(const Glide& glide, double f1, double f2);

} // namespace valveladder
