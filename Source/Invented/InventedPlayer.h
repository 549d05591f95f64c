#pragma once

#include "Guide/MidiEvent.h"
#include "Score/Score.h"

#include <cstdint>
#include <random>
#include <vector>

namespace valveladder {

/// A MIDI message at a host position, in quarters from the drill's start.
struct PlayedMessage {
    double quarter = 0.0;
    MidiEvent event; ///< sample unused
};

/// How a take of the invented player goes.
struct DemoForm {
    double spreadMs = 9.0;       ///< standard deviation of onsets
    double asynchronyMs = -12.0; ///< taps come before the click (common in tapping to a metronome)
    double weakChangeMs = 25.0;  ///< how much later than the others the weak change arrives
    int wrongNotes = 0;          ///< a semitone off
    int missedNotes = 0;
};

/// Plays a score on a valved MIDI controller as nobody ever did: every figure here is invented, and every
/// take is marked as invented in the log. Seeded, so that a run can be repeated.
class InventedPlayer {
public:
    explicit InventedPlayer(std::uint32_t seed) : random(seed) {}

    /// Messages of one take, sorted by position. The weak change is the one into valves 2-3.
    [[nodiscard]] std::vector<PlayedMessage> play(const Score& score, double bpm, const DemoForm& form);

private:
    std::mt19937 random;
};

} // namespace valveladder
