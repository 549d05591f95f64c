#include "Listening/NotePitch.h"

#include "Listening/DotProduct.h"
#include "Listening/PeakShift.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr double leastCorrelation = 0.3;
/// Of the lag, how far about the expected one the first search goes, and of one period, how far the later
/// ones do; but never less than so many samples. The last two are our choice, no source.
constexpr double firstSearchShare = 0.035;
constexpr double nextSearchShare = 0.02;
constexpr double leastSearch = 1.0;
/// Shortest period, and what a tone must hold beside the lags, in samples, so that a lag has neighbours to be
/// compared with; our choice, no source.
constexpr double leastPeriod = 3.0;
constexpr double spareSamples = 4.0;
/// Several periods are compared as long as they take no more than this share of the tone and correlate by no
/// less than this share of what one does; our choice, no source.
constexpr double mostOfTone = 0.6;
constexpr double leastOfFirst = 0.8;
/// Sum of squares, full scale = 1: no more is silence.
constexpr double silentEnergy = 1e-12;
/// Of a peak from its whole lag, samples: the highest lag may lie at the search's edge, its neighbour higher.
constexpr double mostShift = 1.0;

double correlation(std::span<const float> tone, int lag) {
    const std::size_t n = tone.size() - static_cast<std::size_t>(lag);
    const float* a = tone.data();
    const float* b = tone.data() + lag;
    return correlationOf(a, b, n, dotProduct(a, a, n) + dotProduct(b, b, n), silentEnergy);
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
    return {bestLag + std::clamp(peakShift(l, best, r), -mostShift, mostShift), best};
}

} // namespace

std::optional<double> refinePeriod(std::span<const float> tone, double guess, double maxLag) {
    const auto size = static_cast<double>(tone.size());
    if (size < 2.0 * guess + spareSamples || guess < leastPeriod)
        return std::nullopt;
    const Peak first = peakNear(tone, guess, std::max(leastSearch, firstSearchShare * guess));
    if (first.height < leastCorrelation)
        return std::nullopt;
    double period = first.lag;
    for (int m = 2; m * period <= maxLag && m * period + spareSamples < mostOfTone * size; m *= 2) {
        const Peak next = peakNear(tone, m * period, std::max(leastSearch, nextSearchShare * period));
        if (next.height < leastOfFirst * first.height)
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
