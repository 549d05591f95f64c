#include "Sound/Voice.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace valveladder {

namespace {

/// How a timbre behaves in time, and what it is made of. By ear, no source.
struct TimbreShape {
    double attackSeconds;
    double decaySeconds;   ///< to 1/e; 0 = held level
    double lengthSeconds;  ///< 0 = until released
    double releaseSeconds; ///< 0 = it cannot be released
    double tilt;           ///< the k-th partial has the amplitude k to the power of -tilt
    double noise;          ///< share of noise in it, 0..1
    double fallsTo;        ///< share of its pitch that is left at its end
};

constexpr TimbreShape shapeOf(Timbre timbre) {
    switch (timbre) {
    case Timbre::click:
        return {0.0, 0.010, 0.050, 0.0, 2.0, 0.0, 1.0};
    case Timbre::tone:
        return {0.008, 0.0, 0.0, 0.040, 1.2, 0.0, 1.0};
    case Timbre::drone:
        return {0.060, 0.0, 0.0, 0.120, 1.6, 0.0, 1.0};
    case Timbre::pad:
        return {0.150, 0.0, 0.0, 0.200, 2.0, 0.0, 1.0};
    case Timbre::bass:
        return {0.004, 0.600, 0.0, 0.050, 1.4, 0.0, 1.0};
    case Timbre::bassDrum:
        return {0.001, 0.060, 0.250, 0.0, 2.0, 0.0, 0.4};
    case Timbre::snare:
        return {0.0005, 0.045, 0.180, 0.0, 2.0, 0.6, 1.0};
    case Timbre::hat:
        return {0.0005, 0.015, 0.060, 0.0, 2.0, 1.0, 1.0};
    }
    return {};
}

/// Partials above are left out: they would sting, and near half the rate come back mirrored.
constexpr double highestPartialHz = 3000.0;
constexpr double highestShareOfRate = 0.45;
constexpr std::uint32_t noiseSeed = 0x9E3779B9U;
constexpr std::int64_t endless = std::numeric_limits<std::int64_t>::max();

std::int64_t samplesOf(double seconds, double rate) {
    return std::max<std::int64_t>(1, std::llround(seconds * rate));
}

} // namespace

void Voice::begin(Timbre made, double hz, double amplitude, double sampleRate) noexcept {
    const TimbreShape shape = shapeOf(made);
    timbre = made;
    peak = amplitude;
    rate = sampleRate;
    phase = 0.0;
    const double used = std::min(hz, highestShareOfRate * rate);
    step = 2.0 * std::numbers::pi * used / rate;
    layPartials(used, shape.tilt);
    noiseShare = shape.noise;
    decayed = 1.0;
    decay = shape.decaySeconds > 0.0 ? std::exp(-1.0 / (shape.decaySeconds * rate)) : 1.0;
    rise = 1.0 / static_cast<double>(samplesOf(shape.attackSeconds, rate));
    risen = 0.0;
    held = 1.0;
    fallOff = 0.0;
    releasing = false;
    passed = 0;
    left = shape.lengthSeconds > 0.0 ? samplesOf(shape.lengthSeconds, rate) : endless;
    taper = std::max<std::int64_t>(1, left / 4);
    fall = shape.lengthSeconds > 0.0 ? std::pow(shape.fallsTo, 1.0 / static_cast<double>(left)) : 1.0;
    random = noiseSeed;
    lastNoise = 0.0;
}

void Voice::layPartials(double hz, double tilt) noexcept {
    const double highest = std::min(highestPartialHz, highestShareOfRate * rate);
    partialCount = std::clamp(static_cast<int>(highest / hz), 1, mostPartials);
    double sum = 0.0;
    for (int k = 0; k < partialCount; ++k)
        sum += amplitudes[static_cast<std::size_t>(k)] = std::pow(k + 1, -tilt);
    for (double& amplitude : amplitudes)
        amplitude /= sum;
}

void Voice::release() noexcept {
    const double seconds = shapeOf(timbre).releaseSeconds;
    if (!sounds() || releasing || seconds <= 0.0)
        return;
    releasing = true;
    left = samplesOf(seconds, rate);
    fallOff = 1.0 / static_cast<double>(left);
}

void Voice::render(std::span<double> mix) noexcept {
    for (double& sample : mix) {
        if (left <= 0)
            return;
        const double now = wave();
        sample += peak * envelope() * now;
        --left;
        ++passed;
    }
}

double Voice::envelope() noexcept {
    risen = std::min(1.0, risen + rise);
    decayed *= decay;
    if (releasing)
        held = std::max(0.0, held - fallOff);
    const double ending = left < taper ? static_cast<double>(left) / static_cast<double>(taper) : 1.0;
    return risen * decayed * (releasing ? held : ending);
}

double Voice::wave() noexcept {
    phase += step;
    step *= fall;
    if (phase > 2.0 * std::numbers::pi)
        phase -= 2.0 * std::numbers::pi;
    return noiseShare > 0.0 ? noiseShare * noise() + (1.0 - noiseShare) * partials() : partials();
}

/// Multiples of one angle by the recurrence sin(k x) = 2 cos(x) sin((k-1) x) - sin((k-2) x).
double Voice::partials() const noexcept {
    double before = 0.0, now = std::sin(phase);
    double sum = amplitudes[0] * now;
    const double twice = partialCount > 1 ? 2.0 * std::cos(phase) : 0.0;
    for (int k = 1; k < partialCount; ++k) {
        const double next = twice * now - before;
        before = now;
        now = next;
        sum += amplitudes[static_cast<std::size_t>(k)] * now;
    }
    return sum;
}

/// Differences of white noise, which leave out its lows; -1..1.
double Voice::noise() noexcept {
    random ^= random << 13U;
    random ^= random >> 17U;
    random ^= random << 5U;
    const double white = static_cast<double>(random) / std::numeric_limits<std::uint32_t>::max() * 2.0 - 1.0;
    const double high = 0.5 * (white - lastNoise);
    lastNoise = white;
    return high;
}

} // namespace valveladder
