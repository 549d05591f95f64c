#include "Listening/PitchTrack.h"

#include "Listening/DotProduct.h"
#include "Listening/PeakShift.h"
#include "Valves/Interval.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr double beyondShare = 0.04;
/// Correlation below this says nothing of the pitch.
constexpr double leastCorrelation = 0.4;
/// Of a peak from its whole lag, samples: the highest lag may have a higher neighbour beyond those looked at.
constexpr double mostShift = 0.5;

/// Correlation of the cycle before `place` with the one after, the two lying symmetrically about it.
double correlation(std::span<const float> x, const Envelope& envelope, double place, int lag, int window) {
    const auto start = static_cast<std::ptrdiff_t>(std::lround(place - 0.5 * (window + lag)));
    if (start < 0 || start + window + lag > static_cast<std::ptrdiff_t>(x.size()))
        return 0.0;
    const double middle = static_cast<double>(start) + 0.5 * window;
    const double energy =
        std::sqrt(envelope.meanSquare(middle, window) * envelope.meanSquare(middle + lag, window)) * window;
    return energy > 1e-12
               ? dotProduct(x.data() + start, x.data() + start + lag, static_cast<std::size_t>(window)) /
                     energy
               : 0.0;
}

} // namespace

std::vector<TrackPoint> trackPitch(std::span<const float> sound, const Envelope& envelope, double from,
                                   double to, double step, double period1, double period2) {
    const double shorter = std::min(period1, period2);
    const int low = std::max(2, static_cast<int>(std::floor(shorter * (1.0 - beyondShare))) - 1);
    const int high = static_cast<int>(std::ceil(std::max(period1, period2) * (1.0 + beyondShare))) + 1;
    const int window = static_cast<int>(std::lround(0.5 * (period1 + period2)));
    std::vector<double> r(static_cast<std::size_t>(high - low + 1));
    std::vector<TrackPoint> points;
    for (double t = from; t < to; t += step) {
        for (int lag = low; lag <= high; ++lag)
            r[static_cast<std::size_t>(lag - low)] = correlation(sound, envelope, t, lag, window);
        const auto best = std::max_element(r.begin() + 1, r.end() - 1);
        if (*best < leastCorrelation)
            continue;
        const double l = *(best - 1);
        const double h = *(best + 1);
        const double shift = std::clamp(peakShift(l, *best, h), -mostShift, mostShift);
        const double lag = low + static_cast<double>(best - r.begin()) + shift;
        points.push_back({t, centsOf(period1 / lag), *best * *best});
    }
    return points;
}

} // namespace valveladder
