#include "Screen/KeptTakes.h"

#include "Files/SoundWriter.h"
#include "KeptSound/KeptSoundPlace.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <gtest/gtest.h>
#include <numbers>

namespace valveladder::pictures {

namespace {

constexpr double twoPi = 2.0 * std::numbers::pi;
constexpr double takeSeconds = 0.25;
constexpr int harmonics = 8;

double secondsOf(Tick ticks) {
    return static_cast<double>(ticks) / ticksPerQuarter * 60.0 / KeptTakes::bpm;
}

/// Adds a tone: attack of 3 ms, release of 10 ms inside its length.
void addTone(std::vector<float>& sound, double from, double length, double hz, double rms) {
    const double rate = KeptTakes::rate;
    double power = 0.0;
    for (int h = 1; h <= harmonics; ++h)
        power += 0.5 / (h * h);
    const auto first = static_cast<std::size_t>(std::ceil(from * rate));
    const auto last = std::min(sound.size(), static_cast<std::size_t>((from + length) * rate));
    for (std::size_t i = first; i < last; ++i) {
        const double t = static_cast<double>(i) / rate - from;
        double value = 0.0;
        for (int h = 1; h <= harmonics; ++h)
            value += std::sin(twoPi * hz * h * t) / h;
        const double edge = std::clamp(std::min(t / 0.003, (length - t) / 0.010), 0.0, 1.0);
        sound[i] += static_cast<float>(value * edge * rms / std::sqrt(power));
    }
}

} // namespace

KeptTakes::KeptTakes() {
    SessionConfig config;
    config.drill = defaultDrill(config.instrument);
    PlannedTempo planned;
    planned.bpm = bpm;
    setup = makeSetup(config, planned).value();
}

double KeptTakes::onsetOf(const Wish& wish, std::size_t note) const {
    const double jitter = wish.jitterMs * std::sin(7.0 * static_cast<double>(note) + 1.0);
    return takeSeconds + secondsOf(score().notes[note].onset - score().countInTicks) +
           (wish.lateMs + jitter + wish.roundTripMs) / 1000.0;
}

double KeptTakes::toneSeconds(std::size_t note) const {
    return 0.7 * secondsOf(score().notes[note].length);
}

TakeRecord KeptTakes::take(const Wish& wish) const {
    TakeRecord record;
    record.playedBpm = bpm;
    record.roundTripMs = wish.roundTripMs;
    record.soundFile = "sound/" + wish.name;
    const KeptSoundPlace where{takeSeconds, static_cast<double>(score().countInTicks) / ticksPerQuarter, bpm};
    std::vector<float> sound(static_cast<std::size_t>((onsetOf(wish, notes - 1) + 1.5) * rate));
    for (std::size_t i = 0; i < notes; ++i) {
        const ScoreNote& note = score().notes[i];
        NoteResult result;
        result.index = static_cast<int>(i);
        if (static_cast<int>(i) != wish.missed) {
            addTone(sound, onsetOf(wish, i), toneSeconds(i), frequencyHz(note.sounding), wish.level);
            result.outcome = Outcome::right;
            result.onsetSeconds = onsetOf(wish, i) - where.tick0Seconds() - wish.roundTripMs / 1000.0;
        }
        record.performance.notes.push_back(result);
    }
    std::filesystem::create_directories(folder() / "sound");
    auto writer = SoundWriter::open(folder() / record.soundFile, rate, {"Invented", toWords(where)});
    EXPECT_TRUE(writer);
    EXPECT_TRUE(writer.value()->write(sound));
    EXPECT_TRUE(writer.value()->close());
    return record;
}

double frequencyNear(std::span<const float> sound, double rate, double aboutHz) {
    // Windows of half the sound: at four periods and more each keeps the other partials out.
    constexpr std::size_t pieces = 5;
    const std::size_t length = sound.size() / 2;
    const std::size_t hop = sound.size() / 8;
    std::vector<double> phases;
    for (std::size_t piece = 0; piece < pieces; ++piece) {
        std::complex<double> sum;
        for (std::size_t i = 0; i < length; ++i) {
            const std::size_t at = piece * hop + i;
            const double window =
                0.5 - 0.5 * std::cos(twoPi * static_cast<double>(i) / static_cast<double>(length));
            sum += window * static_cast<double>(sound[at]) *
                   std::polar(1.0, -twoPi * aboutHz * static_cast<double>(at) / rate);
        }
        double phase = std::arg(sum);
        if (!phases.empty())
            phase += twoPi * std::round((phases.back() - phase) / twoPi);
        phases.push_back(phase);
    }
    double slope = 0.0;
    double weight = 0.0;
    const double middle = (pieces - 1) / 2.0;
    for (std::size_t piece = 0; piece < pieces; ++piece) {
        const double x = static_cast<double>(piece) - middle;
        slope += x * phases[piece];
        weight += x * x;
    }
    return aboutHz + slope / weight / twoPi / (static_cast<double>(hop) / rate);
}

} // namespace valveladder::pictures
