#include "Listening/Glide.h"

#include <array>
#include <cstddef>
#include <span>

namespace valveladder {

PitchPath glidePath(const Glide& glide, double f1, double f2) {
    std::array<PitchPath::Knot, PitchPath::maxKnots> knots;
    std::size_t count = 0;
    for (const BendPoint& point : bendPoints(glide.shape))
        knots[count++] = {glide.placeOf(point), f1 + point.share * (f2 - f1)};
    return PitchPath(std::span(knots).first(count));
}

} // namespace valveladder
