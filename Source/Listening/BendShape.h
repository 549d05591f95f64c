#pragma once

#include <span>

namespace valveladder {

/// A changeover lasts from the time at which the first pitch is left to the time at which the second is
/// reached. Left: so far from the first settled pitch; reached: from then on no further than this from the
/// second. The greater of the two counts: a share of the interval between the two, or cents. Our choice, no
/// source: as small as can be told from the wander of a steady tone (3 to 5 cents), so that it depends little
/// on how the pitch moves in between.
inline constexpr double leftShare = 0.05;
inline constexpr double leftCents = 5.0;

/// The threshold above for an interval, in cents.
[[nodiscard]] double leftThresholdCents(double intervalCents);

/// How the pitch moves from the first (0) to the second (1).
enum class BendShape {
    straight,
    smooth, ///< slowly away, slowly in: between half a cosine and a movement of least jerk
    landing ///< at once away, ever slower in: exponential
};
inline constexpr BendShape bendShapes[] = {BendShape::straight, BendShape::smooth, BendShape::landing};

/// Where a bend has gone how far. Times in changeovers: the pitch is left at 0 and reached at 1.
struct BendPoint {
    double time = 0.0;
    double share = 0.0; ///< 0..1
};

/// Straight pieces that stand for the shape, within 2 % of the interval.
[[nodiscard]] std::span<const BendPoint> bendPoints(BendShape shape);

} // namespace valveladder
