#include "Listening/Envelope.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

Envelope::Envelope(std::span<const float> sound) : sums(sound.size() + 1, 0.0) {
    for (std::size_t i = 0; i < sound.size(); ++i)
        sums[i + 1] = sums[i] + static_cast<double>(sound[i]) * static_cast<double>(sound[i]);
}

double Envelope::meanSquare(double centre, double window) const {
    const double last = size();
    const auto from = static_cast<std::size_t>(std::clamp(std::round(centre - 0.5 * window), 0.0, last));
    const auto to = static_cast<std::size_t>(std::clamp(std::round(centre + 0.5 * window), 0.0, last));
    return to <= from ? 0.0 : (sums[to] - sums[from]) / static_cast<double>(to - from);
}

double Envelope::rms(double centre, double window) const {
    return std::sqrt(std::max(0.0, meanSquare(centre, window)));
}

double Envelope::maxRms(double from, double to, double window, double step) const {
    double most = 0.0;
    for (double t = from; t < to; t += step)
        most = std::max(most, rms(t, window));
    return most;
}

double riseBefore(const Envelope& envelope, double from, double floor, double window, double threshold) {
    double above = envelope.rms(from, window);
    for (double t = from - 1.0; t >= floor; t -= 1.0) {
        const double here = envelope.rms(t, window);
        if (here < threshold)
            return above > here ? t + (threshold - here) / (above - here) : t;
        above = here;
    }
    return floor;
}

} // namespace valveladder
