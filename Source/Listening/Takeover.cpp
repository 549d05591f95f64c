#include "Listening/Takeover.h"

#include "Listening/CycleCorrelation.h"
#include "Listening/TakeoverConstants.h"
#include "Listening/ToneConstants.h"

#include <algorithm>
#include <cmath>
#include <span>
#include <vector>

namespace valveladder {

namespace {

using namespace takeover;

/// Where to look, in samples into the phrase's sound.
struct SplitSearch {
    double from;
    double to;
    double longer; ///< of the two periods
    double window; ///< over which correlations are taken
};

SplitSearch searchBetween(const PhraseSound& sound, const Tone& before, const Tone& after) {
    const double reach = sound.lengthOf(tone::edgeSearchSeconds);
    SplitSearch search{};
    search.longer = std::max(before.period, after.period);
    search.window = std::max(levelWindow(sound, before), levelWindow(sound, after));
    search.from = std::max(before.period + search.window, std::max(before.middle(), before.to - reach));
    search.to = std::min(after.middle(), after.from + reach);
    return search;
}

/// How much rather the sound at a place repeats with the new period than with the old one: correlation of a
/// cycle with the one before, centred on the border between the two.
double newness(const PhraseSound& sound, double place, const Tone& before, const Tone& after, double window) {
    const double onTheWay = before.period * std::pow(after.period / before.period, shareOfWay);
    const auto repeats = [&](double period) {
        return cycleCorrelation(sound.samples, place + 0.5 * period, period, window);
    };
    return std::max(repeats(after.period), repeats(onTheWay) - wayMargin) - repeats(before.period);
}

/// Where the time is split best between the two tones.
double bestSplit(const PhraseSound& sound, const Tone& before, const Tone& after, const SplitSearch& search) {
    const double step = stepPeriods * search.longer;
    double best = borderBetween(before, after);
    double sum = 0.0;
    double least = 0.0;
    for (double t = search.from; t < search.to; t += step) {
        sum += newness(sound, t, before, after, search.window);
        if (sum < least || t == search.from) {
            least = std::min(least, sum);
            best = t + 0.5 * step;
        }
    }
    return best;
}

std::vector<float> brightened(std::span<const float> piece) {
    std::vector<float> bright(piece.size());
    for (std::size_t i = 1; i < piece.size(); ++i)
        bright[i] = piece[i] - breakEmphasis * piece[i - 1];
    return bright;
}

/// Correlation of the upper harmonics with those a period earlier, every `step` samples back from `late` to
/// `early`.
std::vector<double> brightCorrelation(const PhraseSound& sound, double period, double window, double step,
                                      double early, double late) {
    const double start = std::max(0.0, early - period - window);
    const std::vector<float> bright = brightened(sound.part(start, late + window));
    std::vector<double> correlation;
    for (double t = late; t > early; t -= step)
        correlation.push_back(cycleCorrelation(bright, t - std::floor(start), period, window));
    return correlation;
}

/// Going back from `late`: up to where the sound still repeats with the old period as well as before.
double lastOfOld(const PhraseSound& sound, const Tone& before, double window, double early, double late) {
    const double step = stepPeriods * before.period;
    const auto correlation = brightCorrelation(sound, before.period, window, step, early, late);
    const double best = correlation.empty() ? 0.0 : std::max(0.0, *std::ranges::max_element(correlation));
    double place = late;
    for (const double alike : correlation) {
        if (alike >= unbrokenShare * best)
            break;
        place -= step;
    }
    return place;
}

} // namespace

Takeover takeoverBetween(const PhraseSound& sound, const Tone& before, const Tone& after) {
    const SplitSearch search = searchBetween(sound, before, after);
    const double split = bestSplit(sound, before, after, search);
    const double early = std::max(search.from, split - sound.lengthOf(settlingSeconds));
    const double old = lastOfOld(sound, before, search.window, early, split);
    return {std::midpoint(split, old) - sound.lengthOf(lateSeconds), noisePeriods * search.longer};
}

} // namespace valveladder
