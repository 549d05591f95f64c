#include "Support/BrassSynth.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

namespace valveladder::testing {

BrassVoice trumpetVoice() {
    return {"trumpet", -4.0, -12.0, 1300.0, 6.0, 18.0, 30.0, -46.0, 3.0, 0.0, 3.0};
}
BrassVoice hornVoice() {
    return {"horn", -9.0, -16.0, 450.0, 6.0, 30.0, 45.0, -48.0, 3.0, 0.0, 4.0};
}
BrassVoice euphoniumVoice() {
    return {"euphonium", -7.0, -14.0, 500.0, 5.0, 25.0, 45.0, -46.0, 3.0, 0.0, 3.0};
}
BrassVoice tubaVoice() {
    return {"tuba", -7.0, -13.0, 250.0, 6.0, 35.0, 60.0, -44.0, 4.0, 0.0, 4.0};
}

namespace {

double fromDb(double db) {
    return std::pow(10.0, db / 20.0);
}

/// One articulation: a note and what is bent out of it.
struct Articulation {
    double from;
    double to;
    double level;
    double chiff;
};

class Renderer {
public:
    Renderer(const SoundPlan& soundPlan, const BrassVoice& brassVoice, std::uint32_t seed, double sampleRate,
             double tuning, double drift)
        : plan(soundPlan), voice(brassVoice), random(seed), rate(sampleRate), tuningCents(tuning),
          driftCents(drift) {}

    SoundTake render() {
        SoundTake take;
        take.rate = rate;
        take.truth = plan;
        const auto n = static_cast<std::size_t>(plan.length * rate);
        const std::vector<double> pitch = pitchTrack(n);
        const std::vector<double> level = levelTrack(n);
        take.samples = sum(pitch, level);
        referOnsets(take.truth);
        return take;
    }

private:
    /// Moves the onsets of articulations, in the order of `starts`, to where each alone is heard.
    void referOnsets(SoundPlan& truth) {
        std::size_t articulation = 0;
        for (TrueNote& note : truth.notes) {
            if (note.tongued)
                note.onset += onsetLag(note.midi, phases[articulation++]);
            if (note.splitAt)
                *note.splitAt += onsetLag(note.midi, phases[articulation++]);
        }
    }

    /// Of a note alone that begins in this phase: with tones as low as a tuba's, it decides by milliseconds.
    double onsetLag(int midi, double startPhase) const {
        SoundPlan one;
        TrueNote note;
        note.index = 0;
        note.onset = 0.1;
        note.offset = 0.4;
        note.midi = midi;
        one.notes.push_back(note);
        one.length = 0.4;
        Renderer alone(one, voice, 1, rate, 0.0, 0.0);
        alone.setPhase = startPhase;
        const auto samples = static_cast<std::size_t>(one.length * rate);
        const std::vector<float> sound = alone.sum(alone.pitchTrack(samples), alone.levelTrack(samples));
        return audibleOnset(sound, rate, 0.1, 0.3, 440.0 * std::exp2((midi - 69) / 12.0));
    }

    /// MIDI number of every sample.
    std::vector<double> pitchTrack(std::size_t n) {
        std::vector<double> pitch(n, 60.0);
        std::size_t at = 0;
        for (std::size_t i = 0; i < plan.notes.size(); ++i) {
            const TrueNote& note = plan.notes[i];
            const bool glides = i + 1 < plan.notes.size() && !plan.notes[i + 1].tongued;
            const BendPath change(glides ? changeInto(i + 1) : TrueChange{});
            const double centre = i + 1 < plan.notes.size() ? plan.notes[i + 1].onset : plan.length;
            const double start = glides ? centre - 0.001 * change.leadMs() : centre;
            double end = glides ? centre + 0.001 * change.tailMs() : centre;
            if (i + 2 < plan.notes.size() && !plan.notes[i + 2].tongued)
                end = std::min(end, plan.notes[i + 2].onset - 0.001 * BendPath(changeInto(i + 2)).leadMs());
            for (; at < n && static_cast<double>(at) / rate < end; ++at) {
                const double t = static_cast<double>(at) / rate;
                pitch[at] = t < start ? note.midi : change.midiAt(1000.0 * (t - centre));
                if (note.speaksThrough && t < note.onset + 0.001 * note.speaksThroughMs)
                    pitch[at] = *note.speaksThrough;
            }
        }
        wander(pitch);
        return pitch;
    }

    [[nodiscard]] TrueChange changeInto(std::size_t i) const {
        const TrueNote& note = plan.notes[i];
        return {static_cast<double>(plan.notes[i - 1].midi), static_cast<double>(note.midi),
                note.changeoverMs.value_or(30.0), note.bend, note.stop};
    }

    void wander(std::vector<double>& pitch) {
        std::normal_distribution<double> step(0.0, 1.0);
        const double pull = std::exp(-1.0 / (0.08 * rate));
        const double size = voice.wanderCents / 100.0 * std::sqrt(1.0 - pull * pull);
        double slow = 0.0;
        double slower = 0.0;
        for (std::size_t i = 0; i < pitch.size(); ++i) {
            slow = pull * slow + size * step(random);
            slower += (slow - slower) * (1.0 - std::exp(-1.0 / (0.02 * rate)));
            const double t = static_cast<double>(i) / rate;
            pitch[i] += slower + tuningCents / 100.0 + driftCents / 100.0 * t / plan.length +
                        voice.vibratoCents / 100.0 * std::sin(2.0 * std::numbers::pi * 5.5 * t);
        }
    }

    std::vector<double> levelTrack(std::size_t n) {
        std::vector<double> level(n, 0.0);
        std::uniform_real_distribution<double> loud(0.8, 1.0);
        for (std::size_t i = 0; i < plan.notes.size();) {
            const std::size_t last = chainEnd(i);
            double from = plan.notes[i].onset;
            for (std::size_t k = i; k <= last; ++k)
                if (const auto split = plan.notes[k].splitAt) {
                    articulation(level, from, plan.notes[k].firstStops, loud(random));
                    from = *split;
                }
            articulation(level, from, plan.notes[last].offset, loud(random));
            i = last + 1;
        }
        for (const TrueNote& note : plan.notes)
            if (note.changeoverMs)
                dip(level, note.onset, *note.changeoverMs / 1000.0);
        return level;
    }

    std::size_t chainEnd(std::size_t i) const {
        while (i + 1 < plan.notes.size() && !plan.notes[i + 1].tongued)
            ++i;
        return i;
    }

    void articulation(std::vector<double>& level, double from, double to, double loudness) {
        starts.push_back(from);
        const double attack = voice.attackMs / 1000.0;
        const double release = voice.releaseMs / 1000.0;
        const auto begin = static_cast<std::size_t>(std::max(0.0, from * rate));
        for (std::size_t i = begin; i < level.size(); ++i) {
            const double t = static_cast<double>(i) / rate;
            if (t > to + release)
                break;
            const double up = std::min(1.0, (t - from) / attack);
            const double down = t > to ? std::max(0.0, 1.0 - (t - to) / release) : 1.0;
            level[i] = std::max(level[i], loudness * up * down);
        }
    }

    void dip(std::vector<double>& level, double centre, double length) const {
        const double deep = 1.0 - fromDb(-voice.dipDb);
        const auto begin = static_cast<std::size_t>(std::max(0.0, (centre - length / 2) * rate));
        const auto end = std::min(level.size(), static_cast<std::size_t>((centre + length / 2) * rate));
        for (std::size_t i = begin; i < end; ++i) {
            const double u = (static_cast<double>(i) / rate - centre) / length + 0.5;
            level[i] *= 1.0 - deep * std::pow(std::sin(std::numbers::pi * u), 2.0);
        }
    }

    double harmonicGain(int k, double hz, double level) const {
        const double octave = std::log2(static_cast<double>(k));
        const double loud = std::clamp(1.0 + std::log10(std::max(level, 1e-3)), 0.0, 1.0);
        const double slope = voice.softSlopeDb + (voice.slopeDb - voice.softSlopeDb) * loud;
        const double away = std::log2(k * hz / voice.formantHz);
        return fromDb(slope * octave + voice.formantDb * std::exp(-away * away * 2.0));
    }

    std::vector<float> sum(const std::vector<double>& pitch, const std::vector<double>& level) {
        constexpr int gainHop = 64;
        constexpr int maxHarmonics = 60;
        std::vector<double> gains(maxHarmonics + 1, 0.0);
        std::normal_distribution<double> noise(0.0, 1.0);
        std::vector<float> out(pitch.size());
        double phase = 0.0;
        double breath = 0.0;
        std::uniform_real_distribution<double> anywhere(0.0, 1.0);
        std::size_t nextStart = 0;
        int count = 1;
        for (std::size_t i = 0; i < pitch.size(); ++i) {
            const double hz = 440.0 * std::exp2((pitch[i] - 69.0) / 12.0);
            if (i % gainHop == 0) {
                count = std::clamp(static_cast<int>(std::min(0.45 * rate, 9000.0) / hz), 1, maxHarmonics);
                for (int k = 1; k <= count; ++k)
                    gains[static_cast<std::size_t>(k)] = harmonicGain(k, hz, level[i]);
            }
            if (nextStart < starts.size() && static_cast<double>(i) / rate >= starts[nextStart]) {
                phase = setPhase.value_or(anywhere(random)); // lips start anew
                phases.push_back(phase);
                ++nextStart;
            }
            phase += hz / rate;
            phase -= std::floor(phase);
            breath += 0.25 * (noise(random) - breath);
            double value = 0.0;
            // sin(k a) by recurrence; the cubed term tilts the harmonics' phases off a pulse.
            const double angle = 2.0 * std::numbers::pi * phase;
            const double c = 2.0 * std::cos(angle);
            double s0 = 0.0;
            double s1 = std::sin(angle);
            for (int k = 1; k <= count; ++k) {
                value += gains[static_cast<std::size_t>(k)] * s1;
                const double s2 = c * s1 - s0;
                s0 = s1;
                s1 = s2;
            }
            out[i] = static_cast<float>(0.08 * level[i] * (value + 6.0 * fromDb(voice.breathDb) * breath));
        }
        return out;
    }

    const SoundPlan& plan;
    BrassVoice voice;
    std::mt19937 random;
    double rate;
    double tuningCents;
    double driftCents;
    std::vector<double> starts; ///< of articulations, seconds, in order
    std::vector<double> phases; ///< at these, in cycles
    std::optional<double> setPhase;
};

} // namespace

SoundTake renderBrass(const SoundPlan& plan, const BrassVoice& voice, std::uint32_t seed, double rate,
                      double tuningCents, double driftCents) {
    return Renderer(plan, voice, seed, rate, tuningCents, driftCents).render();
}

} // namespace valveladder::testing
