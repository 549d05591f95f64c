#include "Listening/CycleCorrelation.h"

#include "Listening/DotProduct.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

double bestCorrelation(std::span<const float> sound, std::ptrdiff_t fixed, std::ptrdiff_t moving,
                       std::size_t count, std::ptrdiff_t slack) {
    const auto last = static_cast<std::ptrdiff_t>(sound.size()) - static_cast<std::ptrdiff_t>(count);
    if (fixed < 0 || fixed > last)
        return -1.0;
    const float* a = sound.data() + fixed;
    const double energy = dotProduct(a, a, count);
    double best = -1.0;
    for (std::ptrdiff_t place = std::max<std::ptrdiff_t>(0, moving - slack);
         place <= std::min(last, moving + slack); ++place) {
        const float* b = sound.data() + place;
        const double norm = std::sqrt(energy * dotProduct(b, b, count));
        if (norm > 1e-12)
            best = std::max(best, dotProduct(a, b, count) / norm);
    }
    return best;
}

double cycleCorrelation(std::span<const float> sound, double place, double period, double window,
                        double stray) {
    const auto lag = static_cast<std::ptrdiff_t>(std::lround(period));
    const auto later = static_cast<std::ptrdiff_t>(std::lround(place - 0.5 * window));
    const auto slack = std::max<std::ptrdiff_t>(1, static_cast<std::ptrdiff_t>(stray * period));
    return bestCorrelation(sound, later, later - lag, static_cast<std::size_t>(std::lround(window)), slack);
}

} // namespace valveladder
