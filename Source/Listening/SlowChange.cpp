#include "Listening/SlowChange.h"

#include "Base/Units.h"
#include "Listening/GlideBetween.h"
#include "Listening/SlowChangeConstants.h"
#include "Listening/ToneConstants.h"
#include "Valves/Interval.h"
#include "Valves/Pitch.h"

#include <algorithm>
#include <numeric>
#include <optional>
#include <utility>

namespace valveladder {

namespace {

using namespace slow;

/// Where both steps of a change may lie: samples into the phrase's sound.
struct Steps {
    double first;
    double last;

    [[nodiscard]] double middle() const { return std::midpoint(first, last); }
    [[nodiscard]] double half() const { return 0.5 * (last - first); }
};

/// Nothing where the tones leave no room for two steps. `hidden`: the contour shows no stop.
std::optional<Steps> stepsBetween(const PhraseSound& sound, const Tone& before, const Tone& after,
                                  bool hidden) {
    const double slack = std::max(sound.lengthOf(slackSeconds), std::max(before.period, after.period));
    const double reach = hidden ? sound.lengthOf(hiddenStopSeconds) : 0.0;
    const Steps steps{std::max(before.to - reach - slack, before.middle()),
                      std::min(after.from + reach + slack, after.middle())};
    return steps.last - steps.first < slack ? std::nullopt : std::optional(steps);
}

/// A change that is tried, with and without a stop.
struct Trial {
    Tone before;
    Tone after;
    Steps steps;
    ChangeSound change;
    GlideFitter fitter;
};

std::optional<Trial> trialOf(const PhraseSound& sound, const Tone& before, const Tone& after, bool hidden) {
    const auto steps = stepsBetween(sound, before, after, hidden);
    if (!steps)
        return std::nullopt;
    const auto change = changeSound(sound, before, after, steps->middle(), steps->half());
    if (!change)
        return std::nullopt;
    return Trial{before, after, *steps, *change, change->fitter()};
}

/// How ill one change without a stop fits the same sound, 0..1.
double mismatchOfOne(const PhraseSound& sound, const Trial& trial) {
    Tone before = trial.before;
    Tone after = trial.after;
    before.to = after.from = trial.steps.middle();
    const auto once = glideBetween(sound, before, after);
    if (!once)
        return 1.0;
    return trial.fitter.mismatchOf({once->centre - trial.change.first, once->length, once->shape},
                                   trial.steps.first - trial.change.first - before.period,
                                   trial.steps.last - trial.change.first + after.period);
}

/// The places of the result are those of the trial's piece.
HalfDoneGlide fitStop(const Trial& trial, const HalfDone& stop) {
    const double frequency = frequencyRatio(stop.semitones) / trial.change.periodBefore;
    return trial.fitter.fitHalfDone(frequency, trial.steps.first - trial.change.first,
                                    trial.steps.last - trial.change.first);
}

HeardNote::Slowly readingOf(const PhraseSound& sound, const Trial& trial, const HalfDone& stop,
                            const HalfDoneGlide& glide) {
    const double base = static_cast<double>(sound.first) + trial.change.first;
    HeardNote::Beginning beginning;
    beginning.onset = sound.seconds(base + std::midpoint(glide.left, glide.reached));
    beginning.changeoverMs = msPerSecond * sound.seconds(glide.reached - glide.left);
    return {stop, beginning, sound.seconds(glide.second - glide.first), glide.mismatch};
}

/// Fills `slow` with a reading for each stop, best first, however ill they fit.
void readStops(const PhraseSound& sound, const Trial& trial, std::span<const HalfDone> stops,
               SlowChange& slow) {
    double least = 1.0;
    for (const HalfDone& stop : stops) {
        const HalfDoneGlide glide = fitStop(trial, stop);
        slow.readings.push_back(readingOf(sound, trial, stop, glide));
        if (glide.mismatch < least) {
            least = glide.mismatch;
            slow.left = trial.change.first + glide.left;
            slow.reached = trial.change.first + glide.reached;
        }
    }
    std::ranges::stable_sort(slow.readings, {}, &HeardNote::Slowly::mismatch);
}

std::optional<SlowChange> slowChangeBetween(const PhraseSound& sound, const Tone& before, const Tone& after,
                                            const HalfDoneChanges& stops) {
    const auto candidates =
        stops.between(midiOf(sound.rate / before.period), midiOf(sound.rate / after.period));
    if (candidates.empty())
        return std::nullopt;
    const auto trial = trialOf(sound, before, after, after.number == before.number + 1);
    if (!trial)
        return std::nullopt;
    const double once = mismatchOfOne(sound, *trial);
    if (once < likeOnce)
        return std::nullopt;
    SlowChange slow{before.number, after.number, 0.0, 0.0, {}};
    readStops(sound, *trial, candidates, slow);
    std::erase_if(slow.readings, [&](const HeardNote::Slowly& reading) {
        return reading.mismatch > mostMismatch || reading.mismatch > betterThanOnce * once;
    });
    return slow.readings.empty() ? std::nullopt : std::optional(std::move(slow));
}

bool holds(const PhraseSound& sound, const Tone& tone) {
    return tone.length() > sound.lengthOf(leastBesideSeconds);
}

/// The farthest tone that a change from `before` on may lead to; `before` itself where a silence follows.
std::size_t farthestFrom(const PhraseSound& sound, std::span<const Tone> tones, std::size_t before) {
    double between = 0.0;
    std::size_t last = before + 1;
    for (; last < tones.size(); ++last) {
        if (!touch(sound, tones[last - 1], tones[last]))
            return last - 1;
        between += tones[last].length();
        if (last - before > mostStops || between > sound.lengthOf(tone::passedSeconds))
            break;
    }
    return std::min(last, tones.size() - 1);
}

/// The longest slow change that begins with a tone.
std::optional<SlowChange> slowChangeFrom(const PhraseSound& sound, std::span<const Tone> tones,
                                         std::size_t before, const HalfDoneChanges& stops) {
    if (!holds(sound, tones[before]))
        return std::nullopt;
    for (std::size_t after = farthestFrom(sound, tones, before); after > before; --after)
        if (holds(sound, tones[after]))
            if (auto slow = slowChangeBetween(sound, tones[before], tones[after], stops))
                return slow;
    return std::nullopt;
}

} // namespace

std::vector<SlowChange> slowChanges(const PhraseSound& sound, std::span<const Tone> tones,
                                    const HalfDoneChanges& stops) {
    std::vector<SlowChange> found;
    for (std::size_t before = 0; before + 1 < tones.size(); ++before)
        if (auto slow = slowChangeFrom(sound, tones, before, stops)) {
            before = slow->after - 1;
            found.push_back(std::move(*slow));
        }
    return found;
}

bool isHalfWay(std::span<const SlowChange> changes, std::size_t tone) {
    return std::ranges::any_of(changes, [&](const SlowChange& slow) { return slow.passes(tone); });
}

void leaveOutOfSteady(std::span<const SlowChange> changes, std::span<Tone> tones) {
    for (const SlowChange& slow : changes) {
        tones[slow.before].steadyTo = slow.left;
        tones[slow.after].steadyFrom = slow.reached;
    }
}

} // namespace valveladder
