#include "Sound/OwnSound.h"

#include "Base/Units.h"
#include "Tempo/SampleTime.h"
#include "Valves/Pitch.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

// Channels of our own guide, so that no part shares a key with another.
constexpr int toneChannel = 1, clickChannel = 16;
constexpr std::array<int, backingPartCount> backingChannels{2, 3, 4, 10};
constexpr int accentKey = 76, beatKey = 77;

// Amplitudes at a part's loudest: together below full scale.
constexpr double clickPeak = 0.4;
constexpr double tonePeak = 0.22;
constexpr double dronePeak = 0.10, padPeak = 0.04, bassPeak = 0.09, drumPeak = 0.05;
// Where notes overlap for a moment the sum is rounded off from here, and never reaches full scale.
constexpr double roundedFrom = 0.8;

constexpr double accentHz = 1760.0, beatHz = 1175.0;
constexpr int snareKey = 38, bassDrumKey = 36; // General MIDI percussion
constexpr double bassDrumHz = 110.0, snareHz = 190.0, hatHz = 400.0;
constexpr double gainSeconds = 0.010;
constexpr std::size_t pieceSamples = 64;

double shareOf(double db) {
    return db <= OwnSoundSettings::silentDb ? 0.0 : amplitudeOf(std::min(db, OwnSoundSettings::loudestDb));
}

double rounded(double value) {
    const double size = std::abs(value);
    if (size <= roundedFrom)
        return value;
    const double room = 1.0 - roundedFrom;
    return std::copysign(roundedFrom + room * std::tanh((size - roundedFrom) / room), value);
}

struct Stroke {
    Timbre timbre;
    double hz;
    double peak;
};

Stroke drumOf(int key) {
    if (key == bassDrumKey)
        return {Timbre::bassDrum, bassDrumHz, drumPeak};
    return key == snareKey ? Stroke{Timbre::snare, snareHz, drumPeak} : Stroke{Timbre::hat, hatHz, drumPeak};
}

Stroke strokeOf(const MidiEvent& event) {
    const int key = event.bytes[1];
    switch (event.channel()) {
    case clickChannel:
        return {Timbre::click, key == accentKey ? accentHz : beatHz, clickPeak};
    case toneChannel:
        return {Timbre::tone, frequencyHz(key), tonePeak};
    case backingChannels[0]:
        return {Timbre::drone, frequencyHz(key), dronePeak};
    case backingChannels[1]:
        return {Timbre::pad, frequencyHz(key), padPeak};
    case backingChannels[2]:
        return {Timbre::bass, frequencyHz(key), bassPeak};
    default:
        return drumOf(key);
    }
}

GuideSettings heardOf(const GuideSettings& guide, const OwnSoundSettings& settings) {
    GuideSettings heard = guide;
    heard.notes = settings.tone == ToneWhen::always;
    heard.startingPitch = settings.tone != ToneWhen::off;
    heard.soundingPitch = true;
    heard.valveLanes = false;
    heard.midiClock = false;
    heard.noteChannel = toneChannel;
    heard.clickChannel = clickChannel;
    heard.clickHigh = accentKey;
    heard.clickLow = beatKey;
    heard.backing.channel = backingChannels;
    return heard;
}

} // namespace

void OwnSound::follow(const HostBlock& block, const GuideTrack* track, const GuideSettings& guideSettings,
                      const OwnSoundSettings& settings) noexcept {
    if (block.samples <= 0)
        return;
    if (block.sampleRate != rate) {
        rate = block.sampleRate;
        silence();
    }
    setGains(settings);
    HostBlock heard = block;
    heard.playing = block.playing && settings.on;
    events = guide.process(heard, track, heardOf(guideSettings, settings));
}

/// A gain that nothing is heard by yet is where it is wanted at once.
void OwnSound::setGains(const OwnSoundSettings& settings) noexcept {
    all.wanted = settings.on ? 1.0 : 0.0;
    gains[clickPart].wanted = shareOf(settings.clickDb);
    gains[tonePart].wanted = shareOf(settings.toneDb);
    gains[backingPart].wanted = shareOf(settings.backingDb);
    if (!quiet())
        return;
    all.now = all.wanted;
    for (Gain& gain : gains)
        gain.now = gain.wanted;
}

bool OwnSound::quiet() const noexcept {
    return std::none_of(players.begin(), players.end(),
                        [](const Player& player) { return player.voice.sounds(); });
}

void OwnSound::silence() noexcept {
    for (Player& player : players)
        player.voice.stop();
}

void OwnSound::render(float* const* channels, int channelCount, int samples) noexcept {
    if (!usableSampleRate(rate) || (events.empty() && quiet()))
        return;
    std::size_t nextEvent = 0;
    std::array<double, pieceSamples> mix{};
    for (int at = 0; at < samples;) {
        for (; nextEvent < events.size() && events[nextEvent].sample <= at; ++nextEvent)
            if (events[nextEvent].isNoteOn())
                start(events[nextEvent]);
            else
                end(events[nextEvent]);
        const int until = nextEvent < events.size() ? std::min(events[nextEvent].sample, samples) : samples;
        const int count = std::min(until - at, static_cast<int>(pieceSamples));
        const std::span piece(mix.data(), static_cast<std::size_t>(count));
        renderPiece(piece);
        for (int i = 0; i < count; ++i) {
            const auto value = static_cast<float>(rounded(piece[static_cast<std::size_t>(i)]));
            for (int channel = 0; channel < channelCount; ++channel)
                channels[channel][at + i] += value;
        }
        at += count;
    }
    events = {};
}

void OwnSound::renderPiece(std::span<double> mix) noexcept {
    std::fill(mix.begin(), mix.end(), 0.0);
    for (const Part part : {clickPart, tonePart, backingPart})
        addPart(part, mix);
    const double step = 1.0 / (gainSeconds * rate);
    for (double& sample : mix) {
        all.now += std::clamp(all.wanted - all.now, -step, step);
        sample *= all.now;
    }
    if (all.now == 0.0)
        silence();
}

void OwnSound::addPart(Part part, std::span<double> mix) noexcept {
    std::array<double, pieceSamples> own{};
    const std::span heard(own.data(), mix.size());
    for (Player& player : players)
        if (player.part == part)
            player.voice.render(heard);
    Gain& gain = gains[part];
    const double step = 1.0 / (gainSeconds * rate);
    for (std::size_t i = 0; i < mix.size(); ++i) {
        gain.now += std::clamp(gain.wanted - gain.now, -step, step);
        mix[i] += gain.now * heard[i];
    }
}

void OwnSound::start(const MidiEvent& event) noexcept {
    const Stroke stroke = strokeOf(event);
    Player& player = freePlayer();
    player.key = event.bytes[1];
    player.channel = event.channel();
    player.part = player.channel == clickChannel  ? clickPart
                  : player.channel == toneChannel ? tonePart
                                                  : backingPart;
    player.voice.begin(stroke.timbre, stroke.hz, stroke.peak * event.bytes[2] / 127.0, rate);
}

void OwnSound::end(const MidiEvent& event) noexcept {
    if (!event.isNoteOff())
        return;
    for (Player& player : players)
        if (player.key == event.bytes[1] && player.channel == event.channel())
            player.voice.release();
}

/// Silent, or else the one that began first: among so many it has long died away.
OwnSound::Player& OwnSound::freePlayer() noexcept {
    const auto longest =
        std::max_element(players.begin(), players.end(), [](const Player& a, const Player& b) {
            const auto rank = [](const Player& player) {
                return player.voice.sounds() ? player.voice.age() : std::int64_t{1} << 62;
            };
            return rank(a) < rank(b);
        });
    return *longest;
}

} // namespace valveladder
