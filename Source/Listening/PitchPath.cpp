#include "Listening/PitchPath.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

PitchPath::PitchPath(std::span<const Knot> given) : count(std::min(given.size(), maxKnots)) {
    std::ranges::copy(given.first(count), knots.begin());
    for (std::size_t i = 1; i < count; ++i)
        phases[i] = phases[i - 1] +
                    0.5 * (knots[i - 1].frequency + knots[i].frequency) * (knots[i].time - knots[i - 1].time);
}

double PitchPath::phase(double time) const {
    if (time <= knots[0].time)
        return knots[0].frequency * (time - knots[0].time);
    std::size_t i = 1;
    while (i < count && knots[i].time < time)
        ++i;
    const Knot& from = knots[i - 1];
    const double since = time - from.time;
    if (i == count)
        return phases[i - 1] + from.frequency * since;
    const double slope = (knots[i].frequency - from.frequency) / (knots[i].time - from.time);
    return phases[i - 1] + since * (from.frequency + 0.5 * slope * since);
}

double PitchPath::time(double phase) const {
    if (phase <= 0.0)
        return knots[0].time + phase / knots[0].frequency;
    std::size_t i = 1;
    while (i < count && phases[i] < phase)
        ++i;
    const Knot& from = knots[i - 1];
    const double since = phase - phases[i - 1];
    if (i == count)
        return from.time + since / from.frequency;
    const double slope = (knots[i].frequency - from.frequency) / (knots[i].time - from.time);
    const double root = std::sqrt(std::max(0.0, from.frequency * from.frequency + 2.0 * slope * since));
    return from.time + 2.0 * since / (from.frequency + root);
}

} // namespace valveladder
