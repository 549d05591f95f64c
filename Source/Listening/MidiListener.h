#pragma once

#include "Listening/Performance.h"
#include "Listening/ScoreMatch.h"
#include "Score/Score.h"
#include "Tempo/TempoMap.h"

#include <span>
#include <vector>

namespace valveladder {

/// A note heard. Times in seconds from the score's tick 0.
struct PlayedNote {
    double onset = 0.0;
    double offset = 0.0; ///< >= onset
    MidiNote pitch = 60; ///< sounding
    int velocity = 64;

    bool operator==(const PlayedNote&) const = default;
};

/// A valve sensor's message: one of the valves' controllers crossing switchOnFrom (Guide/MidiEvent.h).
struct ValveMove {
    double seconds = 0.0;
    int valve = 1; ///< 1..4
    bool pressed = false;

    bool operator==(const ValveMove&) const = default;
};

struct MidiTake {
    std::vector<PlayedNote> notes; ///< sorted by onset
    std::vector<ValveMove> valves; ///< sorted by time; empty when the controller has no sensors
    TakeSpan span;
};

/// Matches what was played by MIDI to the score: dynamic programming over (expected, played) with costs for
/// wrong pitch, missed, extra and distance in time, then the measures of Performance. `tempo` maps score
/// quarters (tick / ticksPerQuarter) to the seconds of `take`. `roundTripMs` is subtracted from every time
/// heard.
[[nodiscard]] Performance listenToMidi(const Score& score, const TempoMap& tempo, const MidiTake& take,
                                       double roundTripMs = 0.0);

} // namespace valveladder
