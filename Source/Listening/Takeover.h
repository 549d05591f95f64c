#pragma once

#include "Listening/PhraseSound.h"
#include "Listening/Tone.h"

namespace valveladder {

/// Where a tone is struck while the one before still dies away under it. Samples into the phrase's sound.
struct Takeover {
    double onset = 0.0;
    double noise = 0.0; ///< standard deviation of the onset
};

/// Before the takeover the sound repeats with the old period, after it with the new one: it lies where it
/// splits the time best between the two. By then the new tone repeats, which an articulation does not do at
/// once: it took over half-way between there and where the old tone was last alone.
[[nodiscard]] Takeover takeoverBetween(const PhraseSound& sound, const Tone& before, const Tone& after);

} // namespace valveladder
