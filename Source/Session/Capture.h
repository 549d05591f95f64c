#pragma once

#include "Guide/HostTime.h"
#include "Guide/MidiEvent.h"
#include "Listening/MidiListener.h"

#include <array>
#include <cstdint>
#include <deque>
#include <optional>
#include <vector>

namespace valveladder {

/// Musical time of a stretch of samples.
struct CaptureTime {
    std::int64_t startSample = 0;
    BlockTime time;

    [[nodiscard]] double ppqAt(int sample) const { return time.ppq + sample / time.samplesPerQuarter; }
};

/// Remembers what was played lately, in host time, so that a take's edges can be found after the fact. Memory
/// is bounded: what is older than the oldest sample still wanted is forgotten.
class Capture {
public:
    /// A new stretch of uninterrupted musical time begins (start, jump, loop): sounding notes end here.
    void breakTime(std::int64_t sample);

    /// One event of the player. `pitchOffset` is added to note numbers to get sounding pitch.
    void event(const CaptureTime& time, const MidiEvent& event, int pitchOffset);

    /// Remembers the block's tempo. Call once for each playing block, before its events.
    void block(const CaptureTime& time);

    /// Forgets what ended before `sample`.
    void forgetBefore(std::int64_t sample);

    struct Window {
        std::int64_t fromSample = 0; ///< notes that begin here or later
        std::int64_t toSample = 0;   ///< and before this one
        double lapStartPpq = 0.0;    ///< host position of the score's tick 0
        double fromPpq = 0.0;        ///< the take's edges
        double toPpq = 0.0;
    };

    struct Heard {
        MidiTake take; ///< seconds from the score's tick 0
        TempoMap tempo;
        double bpmLow = 0.0;
        double bpmHigh = 0.0;
    };

    /// What was played in the window, against the window's own tempo.
    [[nodiscard]] Heard heard(const Window& window) const;

    static constexpr std::size_t maxNotes = 200000;
    static constexpr std::size_t maxTempoPoints = 200000;

private:
    struct Note {
        std::int64_t onSample = 0;
        double onPpq = 0.0;
        std::optional<double> offPpq;
        MidiNote pitch = 60;
        int velocity = 64;
        int channel = 1;
        int key = 60;
    };
    struct Valve {
        std::int64_t sample = 0;
        double ppq = 0.0;
        int valve = 1;
        bool pressed = false;
    };
    struct Tempo {
        std::int64_t sample = 0;
        double ppq = 0.0;
        double bpm = 120.0; ///< 0 = time breaks here
        double samplesPerQuarter = 24000.0;
    };

    [[nodiscard]] static double effectiveBpm(const Tempo& from, const Tempo& to);
    void noteOn(const CaptureTime& time, const MidiEvent& event, int pitchOffset);
    void noteOff(const CaptureTime& time, const MidiEvent& event);
    void controller(const CaptureTime& time, const MidiEvent& event);

    std::deque<Note> notes;
    std::deque<Valve> valves;
    std::deque<Tempo> tempos; ///< points where the tempo changed or time broke
    double lastPpq = 0.0;     ///< end of the last block: where a break ends sounding notes
    std::array<bool, maxValves> valveDown{};
};

} // namespace valveladder
