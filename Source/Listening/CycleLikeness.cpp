#include "Listening/CycleLikeness.h"

#include "Listening/DotProduct.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

double cycleLikeness(std::span<const float> sound, double place, double period, double window) {
    const auto n = static_cast<std::ptrdiff_t>(std::lround(window));
    const auto lag = static_cast<std::ptrdiff_t>(std::lround(period));
    const auto later = static_cast<std::ptrdiff_t>(std::lround(place - 0.5 * window));
    const auto slack = std::max<std::ptrdiff_t>(1, lag / 50);
    double best = -1.0;
    for (std::ptrdiff_t d = -slack; d <= slack; ++d) {
        const std::ptrdiff_t earlier = later - lag - d;
        if (earlier < 0 || later + n > static_cast<std::ptrdiff_t>(sound.size()))
            continue;
        const float* a = sound.data() + earlier;
        const float* b = sound.data() + later;
        const auto count = static_cast<std::size_t>(n);
        const double norm = std::sqrt(dotProduct(a, a, count) * dotProduct(b, b, count));
        if (norm > 1e-12)
            best = std::max(best, dotProduct(a, b, count) / norm);
    }
    return best;
}

} // namespace valveladder
