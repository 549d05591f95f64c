#include "Listening/SoundHearing.h"

#include "Listening/PhraseAnalyser.h"
#include "Valves/Pitch.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace valveladder {

namespace {

/// Samples a period of the highest pitch, so that its peak is met closely.
constexpr double samplesAPeriod = 20.0;
constexpr double minAnalysisRate = 4000.0;
constexpr double maxAnalysisRate = 24000.0;
constexpr double dcCornerHz = 12.0;
constexpr float emphasis = 0.85F;
constexpr double levelSeconds = 0.02;
/// The gate: this far above the noise floor, this far below the loudest so far, and never below silence.
constexpr float gateOverFloor = 2.0F;
constexpr float gateUnderPeak = 0.012F;
constexpr float silenceLevel = 2e-4F;
constexpr float peakDecay = 0.99985F; ///< a frame: 26 dB in 100 s
constexpr float floorRise = 1.002F;   ///< a frame: doubles in 1.7 s
/// So many frames without pitch end a phrase.
constexpr int phraseGapFrames = 12;
/// A frame without pitch that is as loud as this share of the tone before it counts for less: two tones that
/// overlap have no common pitch, and yet no breath lies between them.
constexpr float loudShare = 0.3F;
constexpr double loudUnvoicedCount = 0.25;
/// After the end, beside the reach of the window; our choice, no source.
constexpr double silenceAfterSeconds = 0.1;

double targetRate(double highMidi) {
    const double hz = frequencyHz(highMidi);
    return std::clamp(samplesAPeriod * hz, minAnalysisRate, maxAnalysisRate);
}

/// Where the last tone of two notes or more begins: with its first articulation, since what shows the later
/// ones is lost when they are heard by themselves. Of a single tone the last articulation.
std::size_t lastToneOf(const std::vector<HeardNote>& heard) {
    std::size_t first = heard.size() - 1;
    while (first > 0 && heard[first].start == HeardNote::Start::rearticulated)
        --first;
    return first > 0 ? first : heard.size() - 1;
}

} // namespace

SoundHearing::SoundHearing(double sampleRate, double lowMidi, double highMidi, HalfDoneChanges halfDone)
    : changer(sampleRate, targetRate(highMidi)), rate(changer.outputRate()),
      salience(rate, lowMidi, highMidi), contour(salience.bins()),
      plain(static_cast<std::size_t>(keptSeconds * rate)), emphasised(static_cast<std::size_t>(rate)),
      stops(std::move(halfDone)), hop(static_cast<int>(std::lround(PitchContour::frameSeconds * rate))),
      nextCentre(salience.reach()), contourCentre(nextCentre) {
    phrase.reserve(static_cast<std::size_t>(maxPhraseSeconds / PitchContour::frameSeconds) + 1);
}

double SoundHearing::secondsAt(double sample) const {
    return (sample - changer.delay()) / rate;
}

bool SoundHearing::gateOpen(float level) {
    peakLevel = std::max(level, peakLevel * peakDecay);
    floorLevel = std::min(std::max(level, silenceLevel), floorLevel * floorRise);
    return level > std::max({silenceLevel, gateOverFloor * std::min(floorLevel, 0.1F * peakLevel),
                             gateUnderPeak * peakLevel});
}

void SoundHearing::push(std::span<const float> mono, std::vector<HeardNote>& notes) {
    constexpr std::size_t chunk = 1024;
    constexpr float loudest = 16.0F; // 24 dB over full scale: what is above is not sound
    float cleaned[chunk];
    while (!mono.empty()) {
        const std::size_t n = std::min(chunk, mono.size());
        for (std::size_t i = 0; i < n; ++i) {
            const bool sane = std::isfinite(mono[i]) && std::abs(mono[i]) <= loudest;
            broken += sane ? 0 : 1;
            cleaned[i] = sane ? mono[i] : 0.0F;
        }
        resampled.clear();
        changer.push(std::span(cleaned, n), resampled);
        for (const float sample : resampled)
            takeSample(sample, notes);
        mono = mono.subspan(n);
    }
}

void SoundHearing::takeSample(float sample, std::vector<HeardNote>& notes) {
    const double pole = 1.0 - 2.0 * std::numbers::pi * dcCornerHz / rate;
    dcState = static_cast<double>(sample) - dcInput + pole * dcState;
    dcInput = static_cast<double>(sample);
    const auto clean = static_cast<float>(dcState);
    plain.push(clean);
    emphasised.push(clean - emphasis * lastPlain);
    lastPlain = clean;
    if (emphasised.end() >= nextCentre + salience.reach() + 1)
        takeFrame(notes);
}

void SoundHearing::takeFrame(std::vector<HeardNote>& notes) {
    salience.analyse(emphasised.at(nextCentre), work);
    const int half = std::min(static_cast<int>(0.5 * levelSeconds * rate), salience.reach());
    const float* from = plain.at(nextCentre - half);
    double square = 0.0;
    for (int i = 0; i < 2 * half; ++i)
        square += static_cast<double>(from[i]) * static_cast<double>(from[i]);
    const auto level = static_cast<float>(std::sqrt(square / std::max(1, 2 * half)));
    const auto settled = contour.push(work, level, gateOpen(level));
    const ContourFrame newest = contour.newest();
    current = {static_cast<double>(newest.midi), static_cast<double>(newest.periodicity),
               secondsAt(static_cast<double>(nextCentre))};
    nextCentre += hop;
    if (settled)
        takeContour(*settled, notes);
}

void SoundHearing::takeContour(const ContourFrame& frame, std::vector<HeardNote>& notes) {
    const std::int64_t centre = contourCentre;
    contourCentre += hop;
    if (phrase.empty() && !frame.voiced())
        return;
    if (phrase.empty())
        phraseCentre = centre;
    phrase.push_back(frame);
    if (frame.voiced()) {
        unvoicedFrames = 0.0;
        voicedLevel = frame.level;
    } else
        unvoicedFrames += frame.level > loudShare * voicedLevel ? loudUnvoicedCount : 1.0;
    if (unvoicedFrames >= phraseGapFrames)
        closePhrase(notes, false);
    else if (phrase.size() == phrase.capacity())
        closePhrase(notes, true);
}

void SoundHearing::closePhrase(std::vector<HeardNote>& notes, bool keepLast) {
    const auto heard = analysePhrase({phrase, phraseCentre, hop, earliest}, plain, rate, stops);
    const double shift = changer.delay() / rate;
    std::size_t kept = heard.size();
    std::int64_t keepFrom = contourCentre;
    if (keepLast && heard.size() > 1) { // the last tone may go on: it opens the next phrase
        kept = lastToneOf(heard);
        const auto onset = static_cast<std::int64_t>(heard[kept].onset * rate);
        keepFrom = std::max(onset, contourCentre - static_cast<std::int64_t>(phrase.size()) * hop / 2);
    }
    for (std::size_t i = 0; i < kept; ++i) {
        HeardNote note = heard[i];
        note.onset -= shift;
        note.offset -= shift;
        if (note.ifPassed)
            note.ifPassed->onset -= shift;
        for (HeardNote::Slowly& reading : note.slowly)
            reading.beginning.onset -= shift;
        notes.push_back(note);
    }
    const auto drop = static_cast<std::size_t>(std::clamp<std::int64_t>(
        (keepFrom - phraseCentre) / hop, 0, static_cast<std::int64_t>(phrase.size())));
    earliest = keepLast ? keepFrom : contourCentre - phraseGapFrames * hop;
    phrase.erase(phrase.begin(), phrase.begin() + static_cast<std::ptrdiff_t>(drop));
    phraseCentre += static_cast<std::int64_t>(drop) * hop;
    unvoicedFrames = 0.0;
}

void SoundHearing::finish(std::vector<HeardNote>& notes) {
    // The last moments lie within the reach of the window: silence after them brings them to the centre.
    const auto pad =
        static_cast<std::size_t>(salience.reach() + hop + static_cast<int>(silenceAfterSeconds * rate));
    for (std::size_t i = 0; i < pad; ++i)
        takeSample(0.0F, notes);
    for (const ContourFrame& frame : contour.finish())
        takeContour(frame, notes);
    if (!phrase.empty())
        closePhrase(notes, false);
}

} // namespace valveladder
