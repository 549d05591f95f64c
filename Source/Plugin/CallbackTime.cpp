#include "Plugin/CallbackTime.h"

#include <ableton/link/LinearRegression.hpp>

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

/// A callback further from its due time than this is no jitter.
constexpr double gapMicros = 250000.0;

} // namespace

void CallbackTime::reset() noexcept {
    count = next = 0;
    samplesDone = 0.0;
}

bool CallbackTime::follows(double sampleRate, double now) const noexcept {
    return count > 0 && sampleRate == rate &&
           std::abs(now - (lastTime + lastMicros)) <= gapMicros + lastMicros;
}

std::int64_t CallbackTime::block(int samples, double sampleRate, std::int64_t nowMicros) noexcept {
    if (!follows(sampleRate, static_cast<double>(nowMicros - firstMicros))) {
        reset();
        rate = sampleRate;
        firstMicros = nowMicros;
    }
    const auto now = static_cast<double>(nowMicros - firstMicros);
    points[next] = {samplesDone, now};
    next = (next + 1) % capacity;
    count = std::min(count + 1, capacity);
    double time = now;
    if (count > 1) {
        const auto line = ableton::link::linearRegression(
            points.begin(), points.begin() + static_cast<std::ptrdiff_t>(count));
        time = line.first * samplesDone + line.second;
    }
    samplesDone += samples;
    lastTime = time;
    lastMicros = samples / sampleRate * 1.0e6;
    return firstMicros + std::llround(time);
}

} // namespace valveladder
