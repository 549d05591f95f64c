#include "Invented/InventedSound.h"

#include "Base/Units.h"
#include "Valves/Pitch.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace valveladder {

namespace {

constexpr int harmonics = 8;
constexpr double slope = 0.7; ///< from each harmonic to the next
constexpr double level = 0.2;
constexpr double attackSeconds = 0.02;
constexpr double releaseSeconds = 0.03;
constexpr double bendSeconds = 0.035; ///< of a slur

struct Tone {
    double on = 0.0; ///< seconds
    double off = 0.0;
    int pitch = 60;
    bool slurred = false; ///< bends out of the tone before
};

std::vector<Tone> tonesOf(std::span<const PlayedMessage> played, double bpm) {
    std::vector<Tone> tones;
    for (const PlayedMessage& message : played) {
        const double seconds = message.quarter * secondsPerMinute / bpm;
        const int key = message.event.bytes[1];
        if (message.event.isNoteOn()) {
            const bool slurred = !tones.empty() && tones.back().off <= tones.back().on;
            tones.push_back({seconds, 0.0, key, slurred});
        } else if (message.event.isNoteOff()) {
            const auto open = std::find_if(tones.rbegin(), tones.rend(), [key](const Tone& tone) {
                return tone.pitch == key && tone.off <= tone.on;
            });
            if (open != tones.rend())
                open->off = seconds;
        }
    }
    return tones;
}

/// Pitch at a moment of tone i, bent out of the tone before where it is slurred.
double pitchAt(const std::vector<Tone>& tones, std::size_t i, double seconds) {
    const Tone& tone = tones[i];
    if (!tone.slurred)
        return tone.pitch;
    const double share = std::clamp((seconds - tone.on) / bendSeconds + 0.5, 0.0, 1.0);
    return tones[i - 1].pitch + share * (tone.pitch - tones[i - 1].pitch);
}

double envelopeAt(const std::vector<Tone>& tones, std::size_t i, double seconds) {
    const Tone& tone = tones[i];
    const bool held = i + 1 < tones.size() && tones[i + 1].slurred;
    const double rise = tone.slurred ? 1.0 : std::clamp((seconds - tone.on) / attackSeconds, 0.0, 1.0);
    const double fall = held ? 1.0 : std::clamp((tone.off - seconds) / releaseSeconds, 0.0, 1.0);
    return rise * fall;
}

} // namespace

std::vector<float> inventedSound(std::span<const PlayedMessage> played, double bpm, double sampleRate) {
    const std::vector<Tone> tones = tonesOf(played, bpm);
    if (tones.empty())
        return {};
    std::vector<float> sound(static_cast<std::size_t>((tones.back().off + 0.1) * sampleRate));
    double phase = 0.0;
    std::size_t i = 0;
    for (std::size_t sample = 0; sample < sound.size(); ++sample) {
        const double seconds = static_cast<double>(sample) / sampleRate;
        // A slur is heard from half a bend before the new tone's own time.
        while (i + 1 < tones.size() &&
               seconds >= tones[i + 1].on - (tones[i + 1].slurred ? bendSeconds / 2.0 : 0.0))
            ++i;
        const double envelope = envelopeAt(tones, i, seconds);
        if (envelope <= 0.0)
            continue;
        phase += 2.0 * std::numbers::pi * frequencyHz(pitchAt(tones, i, seconds)) / sampleRate;
        double sum = 0.0;
        double weight = level * envelope;
        for (int h = 1; h <= harmonics; ++h, weight *= slope)
            sum += weight * std::sin(h * phase);
        sound[sample] = static_cast<float>(sum);
    }
    return sound;
}

} // namespace valveladder
