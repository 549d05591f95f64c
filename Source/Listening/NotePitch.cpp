#include "Listening/NotePitch.h"

#include "Listening/DotProduct.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr double leastCorrelation = 0.3;
/// Of the lag, how far about the expected one the first search goes.
constexpr double firstSearchShare = 0.035;

double correlation(std::span<const float> tone, int lag) {
    const std::size_t n = tone.size() - static_cast<std::size_t>(lag);
    const float* a = tone.data();
    const float* b = tone.data() + lag;
    const double energy = dotProduct(a, a, n) + dotProduct(b, b, n);
    return energy > 1e-12 ? 2.0 * dotProduct(a, b, n) / energy : 0.0;
}

struct Peak {
    double lag = 0.0;
    double height = -1.0;
};

/// Highest correlation among whole lags within `slack` of `expected`, with a parabola through its neighbours.
Peak peakNear(std::span<const float> tone, double expected, double slack) {
    const int from = std::max(2, static_cast<int>(std::floor(expected - slack)));
    const int to = static_cast<int>(std::ceil(expected + slack));
    int bestLag = from;
    double best = -2.0;
    for (int lag = from; lag <= to; ++lag) {
        const double r = correlation(tone, lag);
        if (r > best) {
            best = r;
            bestLag = lag;
        }
    }
    const double l = correlation(tone, bestLag - 1);
    const double r = correlation(tone, bestLag + 1);
    const double curve = l - 2.0 * best + r;
    const double shift = curve < 0.0 ? std::clamp(0.5 * (l - r) / curve, -1.0, 1.0) : 0.0;
    return {bestLag + shift, best};
}

} // namespace

std::optional<double> refinePeriod(std::span<const float> tone, double guess, double maxLag) {
    const auto size = static_cast<double>(tone.size());
    if (size < 2.0 * guess + 4.0 || guess < 3.0)
        return std::nullopt;
    const Peak first = peakNear(tone, guess, std::max(1.0, firstSearchShare * guess));
    if (first.height < leastCorrelation)
        return std::nullopt;
    double period = first.lag;
    for (int m = 2; m * period <= maxLag && m * period + 4.0 < 0.6 * size; m *= 2) {
        const Peak next = peakNear(tone, m * period, std::max(1.0, 0.02 * period));
        if (next.height < 0.8 * first.height)
            break;
        period = next.lag / m;
    }
    return period;
}

std::optional<double> periodAt(std::span<const float> sound, double place, double window, double guess) {
    const double last = static_cast<double>(sound.size());
    const double from = std::clamp(place - 0.5 * window, 0.0, last);
    const double to = std::clamp(place + 0.5 * window, from, last);
    return refinePeriod(sound.subspan(static_cast<std::size_t>(from), static_cast<std::size_t>(to - from)),
                        guess, 0.5 * window);
}

} // namespace valveladder
