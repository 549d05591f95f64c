#pragma once

#include "Listening/MidiListener.h"

namespace valveladder {

/// What of our own guide came back among the player's messages, as through a cable or a host's routing.
struct GuideEcho {
    std::size_t notes = 0;  ///< of the guide and its click
    std::size_t valves = 0; ///< moves of the valve controllers

    [[nodiscard]] bool any() const { return notes + valves > 0; }
};

/// Takes our own guide out of `take`, which was played to `score` at `tempo` (as for listenToMidi). It is
/// known by what no hand does: nearly all of its notes come back with the key and the very velocity that
/// were sent, all of them late by one and the same time. Else nothing is taken out. Clicks and valve moves
/// likewise.
GuideEcho takeOutGuide(MidiTake& take, const Score& score, const TempoMap& tempo);

} // namespace valveladder
