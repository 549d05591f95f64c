#pragma once

#include "Listening/MidiListener.h"
#include "Support/SimulatedPlayer.h"

#include <cstdint>
#include <vector>

namespace valveladder::simulated {

/// How an invented player's fingers move on valves with sensors.
struct Fingers {
    double leadMs = 10.0;      ///< before the note sounds
    double heavySdMs = 9.0;    ///< of each movement, Student t with 3 degrees of freedom
    double pressLaterMs = 0.0; ///< keys reach their way down so much later than up, whichever the finger
};

/// What the sensors send while `played` is played: a finger with a weakness moves by so much later.
[[nodiscard]] std::vector<ValveMove> sensorMoves(const Performance& played, const Score& score,
                                                 const std::vector<Weak>& weaknesses, const Fingers& fingers,
                                                 std::uint64_t seed);

/// Has the changes of `played` measured by what the sensors sent, as a take by MIDI is heard.
void measureBySensors(Performance& played, const Score& score, std::vector<ValveMove> moves);

} // namespace valveladder::simulated
