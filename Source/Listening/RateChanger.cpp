#include "Listening/RateChanger.h"

#include "Listening/DotProduct.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace valveladder {

namespace {

/// Length of the filter, in periods of the lower of the two rates.
constexpr int spanPeriods = 16;
/// Edge of the pass band as a share of the lower rate.
constexpr double cutoffShare = 0.42;
constexpr double kaiserBeta = 6.8; ///< about 70 dB

/// An input below this share of the target is raised by a whole number, any other divided by one; our choice,
/// no source.
constexpr double raisedBelow = 0.75;
/// Of a whole number: an input short of it by so little is divided by it; our choice, no source.
constexpr double forgivenRatio = 0.01;

double besselI0(double x) {
    double sum = 1.0;
    double term = 1.0;
    for (int k = 1; k < 40; ++k) {
        term *= (x / (2.0 * k)) * (x / (2.0 * k));
        sum += term;
    }
    return sum;
}

/// Low pass of `count` taps at `cutoff` (cycles a sample), unit gain.
std::vector<double> lowPass(int count, double cutoff) {
    std::vector<double> h(static_cast<std::size_t>(count));
    const double middle = 0.5 * (count - 1);
    double sum = 0.0;
    for (int i = 0; i < count; ++i) {
        const double x = i - middle;
        const double phase = 2.0 * std::numbers::pi * cutoff * x;
        const double sinc = std::abs(x) < 1e-9 ? 2.0 * cutoff : std::sin(phase) / (std::numbers::pi * x);
        const double edge = x / (middle + 1.0);
        h[static_cast<std::size_t>(i)] =
            sinc * besselI0(kaiserBeta * std::sqrt(1.0 - edge * edge)) / besselI0(kaiserBeta);
        sum += h[static_cast<std::size_t>(i)];
    }
    for (double& v : h)
        v /= sum;
    return h;
}

} // namespace

RateChanger::RateChanger(double inputRate, double targetRate) {
    if (inputRate < raisedBelow * targetRate)
        up = static_cast<int>(std::ceil(targetRate / inputRate));
    else
        down = std::max(1, static_cast<int>(std::floor(inputRate / targetRate + forgivenRatio)));
    outRate = inputRate * up / down;
    const int ratio = std::max(up, down);
    tapsPerPhase = up > 1 ? spanPeriods : spanPeriods * down;
    if (ratio == 1)
        tapsPerPhase = 1;
    const int count = tapsPerPhase * up;
    const std::vector<double> h = ratio == 1 ? std::vector<double>{1.0} : lowPass(count, cutoffShare / ratio);
    taps.assign(static_cast<std::size_t>(count), 0.0F);
    for (int p = 0; p < up; ++p)
        for (int i = 0; i < tapsPerPhase; ++i) // newest sample last in the window
            taps[static_cast<std::size_t>(p * tapsPerPhase + i)] =
                static_cast<float>(up * h[static_cast<std::size_t>((tapsPerPhase - 1 - i) * up + p)]);
    history.assign(static_cast<std::size_t>(2 * tapsPerPhase), 0.0F);
}

double RateChanger::delay() const {
    const int count = tapsPerPhase * up;
    // The filter runs at up * inputRate; the first output of a decimation completes on the down-th input.
    return (0.5 * (count - 1)) / down - (down - 1.0) / down;
}

void RateChanger::takeOne(float sample, std::vector<float>& out) {
    history[static_cast<std::size_t>(head)] = sample;
    history[static_cast<std::size_t>(head + tapsPerPhase)] = sample;
    head = (head + 1) % tapsPerPhase;
    if (++phase < down)
        return;
    phase = 0;
    for (int p = 0; p < up; ++p)
        out.push_back(static_cast<float>(
            dotProduct(history.data() + head, taps.data() + static_cast<std::ptrdiff_t>(p) * tapsPerPhase,
                       static_cast<std::size_t>(tapsPerPhase))));
}

void RateChanger::push(std::span<const float> in, std::vector<float>& out) {
    for (const float sample : in)
        takeOne(sample, out);
}

} // namespace valveladder
