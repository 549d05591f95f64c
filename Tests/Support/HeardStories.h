#pragma once

#include "Support/SoundPlan.h"

#include <cstdint>
#include <vector>

namespace valveladder::testing {

/// A segment that the player broke off and began again.
struct TrueRestart {
    int span = 0;
    int notes = 0;        ///< played before the break-off
    double seconds = 0.0; ///< of the sound: where it was begun again
};

/// Breaks off one to three segments of a planned take after two notes or more, with a pause of 0.5 to 1.6 s;
/// every other time the last note before is a wrong one. What comes later is late by as much, until a rest
/// between segments takes it up.
[[nodiscard]] std::vector<TrueRestart> breakOff(SoundPlan& plan, const Score& score, std::uint32_t seed);

/// Lets every `nth` note that is long enough crack: 45 to 80 ms on a neighbouring partial of its own valves
/// (the score's fundamentals) first. Returns the notes, by index into the score.
[[nodiscard]] std::vector<int> crackNotes(SoundPlan& plan, const Score& score, int nth, std::uint32_t seed);

/// Lets another pitch sound, 90 to 160 ms long and a second or third away, before up to `count` notes that
/// leave time for it; the note before ends where it begins. Its index is -1.
void addStrayNotes(SoundPlan& plan, int count, std::uint32_t seed);

} // namespace valveladder::testing
