#include "Music/Backing.h"

#include "Guide/MidiEvent.h"
#include "Valves/Interval.h"

#include <algorithm>
#include <tuple>

namespace valveladder {

namespace {

// General MIDI percussion keys.
constexpr int bassDrum = 36;
constexpr int snare = 38;
constexpr int closedHat = 42;
constexpr int highWoodBlock = 76;
constexpr int lowWoodBlock = 77;

// Levels under the guide's own, by ear, no source.
constexpr int heldVelocity = 50;
constexpr int bassVelocity = 70;
constexpr int drumVelocity = 60;
constexpr int clickVelocity = 80;
constexpr int barClickVelocity = 110;

constexpr int fifth = 7;
constexpr int lowestBass = 28; // E1, a bass guitar's lowest string
constexpr Tick strokeTicks = ticksPerQuarter / 8;

class Band {
public:
    Band(const Score& s, const BackingSettings& b)
        : score(s), settings(b), origin(b.countIn ? 0 : s.countInTicks), length(backingLength(s, b)) {}

    std::vector<BackingEvent> play() {
        if (settings.click)
            playClick();
        for (const ScoreSpan& span : score.spans)
            playSpan(span);
        std::stable_sort(events.begin(), events.end(), [](const BackingEvent& a, const BackingEvent& b) {
            return std::tie(a.tick, a.begins) < std::tie(b.tick, b.begins);
        });
        return std::move(events);
    }

private:
    void playClick() {
        const Tick beat = score.meter.beatTicks();
        for (Tick tick = origin; tick < origin + length; tick += beat) {
            const bool first = tick % score.meter.barTicks() == 0;
            note(Backing::click, settings.clickChannel, first ? highWoodBlock : lowWoodBlock,
                 first ? barClickVelocity : clickVelocity, tick, std::min(strokeTicks, beat));
        }
    }

    void playSpan(const ScoreSpan& span) {
        const MidiNote root = rootOf(span);
        const Tick held = span.end - span.start;
        if (settings.drone)
            note(Backing::drone, settings.droneChannel, lowered(root, semitonesAnOctave), heldVelocity,
                 span.start, held);
        if (settings.pad)
            for (const int interval : {0, fifth, semitonesAnOctave})
                note(Backing::pad, settings.padChannel, root + interval, heldVelocity, span.start, held);
        if (settings.bass)
            playBass(span, lowered(lowered(root, semitonesAnOctave), semitonesAnOctave));
        if (settings.drums)
            playDrums(span);
    }

    void playBass(const ScoreSpan& span, MidiNote key) {
        for (int i = span.firstNote; i < span.firstNote + span.noteCount; ++i) {
            const ScoreNote& lead = score.notes[static_cast<std::size_t>(i)];
            note(Backing::bass, settings.bassChannel, key, bassVelocity, lead.onset, lead.length);
        }
    }

    void playDrums(const ScoreSpan& span) {
        const Tick beat = score.meter.beatTicks();
        for (Tick tick = (span.start + beat - 1) / beat * beat; tick < span.end; tick += beat)
            note(Backing::drums, settings.drumChannel, bassDrum, drumVelocity, tick, strokeTicks);
        for (int i = span.firstNote; i < span.firstNote + span.noteCount; ++i) {
            const ScoreNote& lead = score.notes[static_cast<std::size_t>(i)];
            const Tick stroke = std::min<Tick>(strokeTicks, lead.length);
            note(Backing::drums, settings.drumChannel, lead.accent ? snare : closedHat, drumVelocity,
                 lead.onset, stroke);
        }
    }

    [[nodiscard]] MidiNote rootOf(const ScoreSpan& span) const {
        MidiNote root = highestMidiNote;
        for (int i = span.firstNote; i < span.firstNote + span.noteCount; ++i)
            root = std::min(root, score.notes[static_cast<std::size_t>(i)].sounding);
        return root;
    }

    /// Down by an interval, unless that leaves the bass's range.
    static MidiNote lowered(MidiNote key, int interval) {
        return key - interval >= lowestBass ? key - interval : key;
    }

    void note(Backing part, int channel, int key, int velocity, Tick onset, Tick duration) {
        const Tick from = onset - origin;
        const Tick to = std::min(from + duration, length);
        if (key < lowestMidiNote || key > highestMidiNote || to <= from)
            return;
        const int low = std::clamp(channel, 1, 16) - 1;
        const auto byte = [](int value) { return static_cast<std::uint8_t>(value); };
        events.push_back({from, true, part, {byte(noteOnStatus | low), byte(key), byte(velocity)}});
        events.push_back({to, false, part, {byte(noteOffStatus | low), byte(key), releaseVelocity}});
    }

    const Score& score;
    const BackingSettings& settings;
    Tick origin;
    Tick length;
    std::vector<BackingEvent> events;
};

} // namespace

Tick backingLength(const Score& score, const BackingSettings& settings) {
    return settings.countIn ? score.length : score.length - score.countInTicks;
}

std::vector<BackingEvent> backingEvents(const Score& score, const BackingSettings& settings) {
    return Band(score, settings).play();
}

} // namespace valveladder
