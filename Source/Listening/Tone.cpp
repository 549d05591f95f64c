#include "Listening/Tone.h"

#include "Base/RobustStatistics.h"
#include "Listening/AttackConstants.h"
#include "Listening/NotePitch.h"
#include "Listening/NoteSegmenter.h"
#include "Listening/ToneConstants.h"
#include "Listening/Vibrato.h"
#include "Valves/Pitch.h"

#include <algorithm>
#include <cmath>
#include <span>
#include <utility>

namespace valveladder {

namespace {

using namespace tone;

std::vector<ContourFrame> steadied(std::span<const ContourFrame> frames, std::span<const float> swing) {
    std::vector<ContourFrame> steady(frames.begin(), frames.end());
    for (std::size_t i = 0; i < steady.size(); ++i)
        if (steady[i].voiced())
            steady[i].midi -= swing[i];
    return steady;
}

/// The frame at which the contour passes from one stretch to the next: where it splits best into frames
/// nearer to the one and nearer to the other pitch.
int passingFrame(std::span<const ContourFrame> steady, const Stretch& before, const Stretch& after) {
    const double border = std::midpoint(before.midi, after.midi);
    const int from = (before.first + before.last) / 2;
    const int to = (after.first + after.last) / 2;
    int best = after.first;
    int sum = 0;
    int least = 0;
    for (int f = from; f < to; ++f) {
        const ContourFrame& frame = steady[static_cast<std::size_t>(f)];
        if (frame.voiced())
            sum += (static_cast<double>(frame.midi) > border) == (after.midi > border) ? 1 : -1;
        if (sum < least) {
            least = sum;
            best = f + 1;
        }
    }
    return best;
}

/// Where a frame begins: half-way from the middle of the one before to its own.
double beginOf(int frame, const PhraseSound& sound, const Phrase& phrase) {
    return static_cast<double>(phrase.firstCentre - sound.first) + (frame - 0.5) * phrase.hop;
}

double greatestSwing(std::span<const float> swing, const Stretch& stretch) {
    double greatest = 0.0;
    for (int f = stretch.first; f < stretch.last; ++f)
        greatest = std::max(greatest, static_cast<double>(std::abs(swing[static_cast<std::size_t>(f)])));
    return greatest;
}

double periodOf(const PhraseSound& sound, const Tone& rough) {
    const double edge = std::min(sound.lengthOf(unsettledSeconds), mostUnsettledShare * rough.length());
    return settledPeriod(sound, rough.from + edge, rough.to - edge, sound.rate / frequencyHz(rough.midi));
}

double levelOf(const PhraseSound& sound, const Tone& rough) {
    const double window = levelWindow(sound, rough);
    const double last = std::min(rough.to, rough.from + sound.lengthOf(attack::levelSeconds));
    return sound.envelope.maxRms(rough.from, last, window, attack::levelStep * window);
}

Tone toneOf(const PhraseSound& sound, const Phrase& phrase, const Stretch& stretch) {
    Tone tone;
    tone.from = beginOf(stretch.first, sound, phrase);
    tone.to = beginOf(stretch.last, sound, phrase);
    tone.periodicity = stretch.periodicity;
    tone.drift = stretch.drift / phrase.hop;
    tone.midi = stretch.midi;
    tone.period = periodOf(sound, tone);
    tone.level = levelOf(sound, tone);
    tone.onset = tone.reached = tone.settled = tone.from;
    tone.offset = tone.to;
    return tone;
}

} // namespace

double borderBetween(const Tone& before, const Tone& after) {
    return std::midpoint(before.to, after.from);
}

double gapBetween(const Tone& before, const Tone& after) {
    return after.from - before.to;
}

bool touch(const PhraseSound& sound, const Tone& before, const Tone& after) {
    return gapBetween(before, after) < sound.lengthOf(touchSeconds);
}

double semitonesAbove(const PhraseSound& sound, const Tone& tone, const Tone& other) {
    return midiOf(sound.rate / tone.period) - midiOf(sound.rate / other.period);
}

double levelWindow(const PhraseSound& sound, const Tone& tone) {
    return std::max(tone.period, sound.lengthOf(minLevelWindowSeconds));
}

double settledPeriod(const PhraseSound& sound, double from, double to, double guess) {
    const double window = std::max(sound.lengthOf(pitchWindowSeconds), pitchWindowPeriods * guess);
    const double step = std::max(1.0, pitchWindowStep * window);
    std::vector<double> periods;
    const auto fits = [&](double t) { return periods.empty() ? t < to : t + window <= to + 1.0; };
    for (double t = from; fits(t); t += step) {
        const auto piece = sound.part(t, std::min(to, t + window));
        if (const auto period = refinePeriod(piece, guess, longestLagShare * window))
            periods.push_back(*period);
    }
    return periods.empty() ? guess : median(std::move(periods));
}

std::vector<Tone> roughTones(const PhraseSound& sound, const Phrase& phrase) {
    const std::vector<float> swing = vibratoOf(phrase.frames);
    const std::vector<ContourFrame> steady = steadied(phrase.frames, swing);
    const std::vector<Stretch> stretches = segmentContour(steady);
    std::vector<Tone> tones;
    for (std::size_t i = 0; i < stretches.size(); ++i) {
        Tone tone = toneOf(sound, phrase, stretches[i]);
        tone.number = i;
        tone.swing = greatestSwing(swing, stretches[i]);
        if (i > 0)
            tone.reached = beginOf(passingFrame(steady, stretches[i - 1], stretches[i]), sound, phrase);
        tones.push_back(tone);
    }
    return tones;
}

} // namespace valveladder
