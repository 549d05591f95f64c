#include "Session/RoundTrip.h"

#include "Base/RobustStatistics.h"
#include "Base/Units.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace valveladder {

namespace {

constexpr double lowHz = 800.0;
constexpr double highHz = 5000.0;
constexpr double highestShareOfRate = 0.4;
/// Values a second that suffice to place a click to a fiftieth of a millisecond.
constexpr double enoughHz = 48000.0;
/// The first echo may be weaker than a later one (a wall that focuses): it counts from this share of the
/// strongest on.
constexpr double firstShare = 0.6;
/// Correlation, 0..1, from which on a click counts as heard. Noise alone reaches it now and then, but not at
/// one distance for four of six clicks.
constexpr double leastCorrelation = 0.3;

double product(std::span<const double> shape, const float* sound) {
    double sum = 0.0;
    for (std::size_t i = 0; i < shape.size(); ++i)
        sum += shape[i] * static_cast<double>(sound[i]);
    return sum;
}

/// The first lag that is as strong as its neighbours within a click's length allow, and not much weaker than
/// the strongest of all.
std::size_t firstStrong(const std::vector<double>& strength, std::size_t reach) {
    const double least = firstShare * *std::ranges::max_element(strength);
    const auto found = std::ranges::find_if(strength, [least](double s) { return s >= least; });
    const auto last =
        found + std::min<std::ptrdiff_t>(static_cast<std::ptrdiff_t>(reach), strength.end() - found);
    return static_cast<std::size_t>(std::max_element(found, last) - strength.begin());
}

/// The largest group of times within RoundTripFinder::agreeMs of each other; `times` sorted.
std::span<const double> largestAgreeing(std::span<const double> times) {
    std::span<const double> best;
    for (std::size_t from = 0; from < times.size(); ++from) {
        std::size_t to = from;
        while (to < times.size() && times[to] - times[from] <= RoundTripFinder::agreeMs)
            ++to;
        if (to - from > best.size())
            best = times.subspan(from, to - from);
    }
    return best;
}

} // namespace

std::int64_t RoundTripClicks::begin(std::size_t click, double rate) noexcept {
    return std::llround(seconds[click] * rate);
}

std::int64_t RoundTripClicks::length(double rate) noexcept {
    return std::llround((seconds.back() + longestMs / msPerSecond + 2.0 * clickSeconds) * rate);
}

float RoundTripClicks::at(std::int64_t sample, double rate) noexcept {
    for (std::size_t click = 0; click < seconds.size(); ++click) {
        const double t = static_cast<double>(sample - begin(click, rate)) / rate;
        if (t < 0.0 || t >= clickSeconds)
            continue;
        const double top = std::min(highHz, highestShareOfRate * rate);
        const double turns = lowHz * t + (top - lowHz) * t * t / (2.0 * clickSeconds);
        const double hann = 0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * t / clickSeconds);
        return level * static_cast<float>(hann * std::sin(2.0 * std::numbers::pi * turns));
    }
    return 0.0F;
}

RoundTripFinder::RoundTripFinder(double sampleRate, std::int64_t seriesSample)
    : rate(sampleRate), averaged(std::max(1, static_cast<int>(sampleRate / enoughHz))), first(seriesSample),
      next(seriesSample), end(seriesSample + RoundTripClicks::length(sampleRate)) {
    kept.reserve(static_cast<std::size_t>((end - first) / averaged + 1));
}

void RoundTripFinder::take(float sample) {
    if (next >= end)
        return;
    ++next;
    const bool sane = std::isfinite(sample);
    anySound = anySound || (sane && sample != 0.0F);
    sum += sane ? static_cast<double>(sample) : 0.0;
    if (++summed < averaged)
        return;
    kept.push_back(static_cast<float>(sum / averaged));
    sum = 0.0;
    summed = 0;
}

void RoundTripFinder::push(std::int64_t startSample, std::span<const float> sound) {
    while (next < std::min(startSample, end))
        take(0.0F);
    const auto skipped = static_cast<std::size_t>(std::max<std::int64_t>(0, next - startSample));
    for (std::size_t i = skipped; i < sound.size(); ++i)
        take(sound[i]);
}

std::vector<double> RoundTripFinder::clickShape(std::int64_t clickSample) const {
    const std::int64_t from = clickSample / averaged;
    const auto samples = static_cast<std::int64_t>(RoundTripClicks::clickSeconds * rate);
    std::vector<double> shape(static_cast<std::size_t>(samples / averaged + 2));
    for (std::size_t i = 0; i < shape.size(); ++i) {
        for (int j = 0; j < averaged; ++j)
            shape[i] += static_cast<double>(
                RoundTripClicks::at((from + static_cast<std::int64_t>(i)) * averaged + j, rate));
        shape[i] /= averaged;
    }
    return shape;
}

std::optional<double> RoundTripFinder::heardMs(std::size_t click) const {
    const std::int64_t clickSample = RoundTripClicks::begin(click, rate);
    const std::vector<double> shape = clickShape(clickSample);
    const auto from = static_cast<std::size_t>(clickSample / averaged);
    const auto lags = static_cast<std::size_t>(RoundTripClicks::longestMs / msPerSecond * rate / averaged);
    if (kept.size() < from + shape.size() + 1)
        return std::nullopt;
    std::vector<double> strength(std::min(lags, kept.size() - from - shape.size()));
    for (std::size_t lag = 0; lag < strength.size(); ++lag)
        strength[lag] = std::abs(product(shape, kept.data() + from + lag));
    const std::size_t lag = firstStrong(strength, shape.size());
    double shapeSquares = 0.0;
    double soundSquares = 0.0;
    for (std::size_t i = 0; i < shape.size(); ++i) {
        const auto value = static_cast<double>(kept[from + lag + i]);
        shapeSquares += shape[i] * shape[i];
        soundSquares += value * value;
    }
    if (strength[lag] <= leastCorrelation * std::sqrt(shapeSquares * soundSquares))
        return std::nullopt;
    return msPerSecond * static_cast<double>(lag) * averaged / rate;
}

Result<double> RoundTripFinder::result() const {
    const std::string where = "round trip";
    if (!anySound)
        return Problem{"nothing at all came in", where,
                       "choose an input, connect the output to it, and measure again"};
    std::vector<double> times;
    for (std::size_t click = 0; click < RoundTripClicks::seconds.size(); ++click)
        if (const auto ms = heardMs(click))
            times.push_back(*ms);
    std::ranges::sort(times);
    const auto agreeing = largestAgreeing(times);
    if (agreeing.size() >= neededClicks)
        return median({agreeing.begin(), agreeing.end()});
    if (times.size() >= neededClicks)
        return Problem{fmt::format("the clicks came back at different times ({:.1f} to {:.1f} ms)",
                                   times.front(), times.back()),
                       where, "make the room quiet, or use a cable, and measure again"};
    return Problem{
        fmt::format("{} of {} clicks were heard back", times.size(), RoundTripClicks::seconds.size()), where,
        "connect the output to the input, or hold the headphone to the microphone, turn it up, and "
        "measure again"};
}

} // namespace valveladder
