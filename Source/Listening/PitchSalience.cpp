#include "Listening/PitchSalience.h"

#include "Listening/DotProduct.h"
#include "Listening/PeakShift.h"
#include "Listening/PhraseConstants.h"
#include "Valves/Pitch.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace valveladder {

namespace {

/// Window of the comparison, in periods, and its least length.
constexpr double windowPeriods = 1.25;
constexpr double minWindowSeconds = 0.010;
/// Share of the correlation at half the lag that speaks against the whole lag: a tone whose half period
/// repeats as well is an octave higher.
constexpr float octaveDiscount = 0.5F;
constexpr float octaveFloor = 0.6F;
/// What repeats better at two thirds of a lag has another period, an octave under that: a horn's second
/// harmonic may be 16 dB over its first. A tone's own period is never beaten so. Set on the tuning part of
/// the real notes.
constexpr float thirdsDiscount = 2.0F;
constexpr double twoThirds = 2.0 / 3.0;
/// Longer lags pay this much an octave, so that of equal multiples the shortest wins.
constexpr float lagDiscountPerOctave = 0.02F;

/// Correlation: what repeats less is no peak; our choice, no source.
constexpr float leastPeak = 0.2F;

/// Windowed-sinc interpolation from this many neighbours, at this many places between two.
constexpr int taps = 8;
constexpr int phases = 64;
using Taps = std::array<float, taps>;

/// Weights for a place `phase / phases` past the neighbour number taps / 2 - 1; they sum to 1.
Taps tapsAt(int phase) {
    Taps weights{};
    const double at = taps / 2 - 1 + static_cast<double>(phase) / phases;
    double sum = 0.0;
    std::array<double, taps> raw{};
    for (int i = 0; i < taps; ++i) {
        const double x = std::numbers::pi * (i - at);
        const double sinc = std::abs(x) < 1e-9 ? 1.0 : std::sin(x) / x;
        raw[static_cast<std::size_t>(i)] = sinc * std::pow(std::cos(x / taps), 2.0);
        sum += raw[static_cast<std::size_t>(i)];
    }
    for (std::size_t i = 0; i < raw.size(); ++i)
        weights[i] = static_cast<float>(raw[i] / sum);
    return weights;
}

const std::array<Taps, phases>& interpolation() {
    static const std::array<Taps, phases> table = [] {
        std::array<Taps, phases> made{};
        for (int phase = 0; phase < phases; ++phase)
            made[static_cast<std::size_t>(phase)] = tapsAt(phase);
        return made;
    }();
    return table;
}

int windowFor(int lag, double rate) {
    return std::max(static_cast<int>(windowPeriods * lag), static_cast<int>(minWindowSeconds * rate));
}

} // namespace

PitchSalience::PitchSalience(double sampleRate, double lowMidi, double highMidi)
    : rate(sampleRate), low(lowMidi) {
    binCount = static_cast<int>(std::ceil((highMidi - lowMidi) * binsPerSemitone)) + 1;
    const auto lagOf = [&](double midi) { return rate / frequencyHz(midi); };
    // An octave above the range too: its lags tell a note from one twice as long.
    minLag = std::max(2, static_cast<int>(std::floor(lagOf(highMidi + 0.25) / 2.0)));
    maxLag = static_cast<int>(std::ceil(lagOf(lowMidi - 0.25))) + 1;
    reachSamples = (windowFor(maxLag, rate) + maxLag) / 2 + 2;
    correlation.assign(static_cast<std::size_t>(maxLag - minLag + 1), 0.0F);
    squares.assign(static_cast<std::size_t>(2 * reachSamples + 1), 0.0);
    for (int b = 0; b < binCount; ++b) {
        const double lag = lagOf(binMidi(b));
        binPlaces.push_back({placeOf(lag), placeOf(0.5 * lag), placeOf(twoThirds * lag),
                             static_cast<float>(std::log2(lag / minLag))});
    }
}

void PitchSalience::correlate(const float* centre) {
    const float* first = centre - reachSamples;
    for (std::size_t i = 0; i + 1 < squares.size(); ++i)
        squares[i + 1] = squares[i] + static_cast<double>(first[i]) * static_cast<double>(first[i]);
    constexpr double silence = phrase::silence * phrase::silence; // as a mean square
    for (int lag = minLag; lag <= maxLag; ++lag) {
        const int window = windowFor(lag, rate);
        const int start = -(window + lag) / 2;
        const auto from = static_cast<std::size_t>(start + reachSamples);
        const auto n = static_cast<std::size_t>(window);
        const auto shift = static_cast<std::size_t>(lag);
        const double energy =
            squares[from + n] - squares[from] + squares[from + shift + n] - squares[from + shift];
        correlation[static_cast<std::size_t>(lag - minLag)] = static_cast<float>(
            correlationOf(centre + start, centre + start + lag, n, energy, silence * window));
    }
}

PitchSalience::Place PitchSalience::placeOf(double lag) const {
    const double place = std::clamp(lag - minLag, 0.0, static_cast<double>(maxLag - minLag) - 0.001);
    const int fine = static_cast<int>(place * phases + 0.5);
    const int first = fine / phases - (taps / 2 - 1);
    if (first < 0 || static_cast<std::size_t>(first) + taps > correlation.size()) {
        const auto i = static_cast<std::size_t>(place);
        const auto f = static_cast<float>(place - static_cast<double>(i));
        return {i, 2, {1.0F - f, f}};
    }
    return {static_cast<std::size_t>(first), taps, interpolation()[static_cast<std::size_t>(fine % phases)]};
}

float PitchSalience::correlationAt(const Place& place) const {
    const float* from = correlation.data() + place.first;
    float sum = 0.0F;
    for (std::size_t i = 0; i < place.count; ++i)
        sum += place.weights[i] * from[i];
    return sum;
}

void PitchSalience::fillBins(Salience& out) const {
    out.periodicity.resize(static_cast<std::size_t>(binCount));
    out.midi.resize(static_cast<std::size_t>(binCount));
    for (int b = 0; b < binCount; ++b) {
        out.periodicity[static_cast<std::size_t>(b)] =
            correlationAt(binPlaces[static_cast<std::size_t>(b)].whole);
        out.midi[static_cast<std::size_t>(b)] = static_cast<float>(binMidi(b));
    }
}

void PitchSalience::markPeaks(Salience& out) const {
    for (std::size_t i = 1; i + 1 < correlation.size(); ++i) {
        const float l = correlation[i - 1];
        const float m = correlation[i];
        const float r = correlation[i + 1];
        if (m < l || m <= r || m < leastPeak)
            continue;
        const double lag = minLag + static_cast<double>(i) + static_cast<double>(peakShift(l, m, r));
        const float peak = std::max(m, correlationAt(placeOf(lag)));
        const double midi = midiOf(rate / lag);
        const int bin = static_cast<int>(std::lround((midi - low) * binsPerSemitone));
        if (bin < 0 || bin >= binCount)
            continue;
        const auto b = static_cast<std::size_t>(bin);
        if (peak > out.periodicity[b]) {
            out.periodicity[b] = std::min(peak, 1.0F);
            out.midi[b] = static_cast<float>(midi);
        }
    }
}

void PitchSalience::discountOctaves(Salience& out) const {
    for (int b = 0; b < binCount; ++b) {
        const auto i = static_cast<std::size_t>(b);
        const Bin& bin = binPlaces[i];
        const float half = correlationAt(bin.half);
        const float whole = out.periodicity[i];
        out.periodicity[i] = whole - lagDiscountPerOctave * bin.octaves -
                             octaveDiscount * std::max(0.0F, half - octaveFloor * std::max(whole, 0.0F)) -
                             thirdsDiscount * std::max(0.0F, correlationAt(bin.twoThirds) - whole);
    }
}

void PitchSalience::analyse(const float* centre, Salience& out) {
    correlate(centre);
    fillBins(out);
    markPeaks(out);
    discountOctaves(out);
}

} // namespace valveladder
