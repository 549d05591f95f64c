#pragma once

#include "Listening/HalfDone.h"
#include "Listening/HeardNote.h"
#include "Listening/PhraseSound.h"
#include "Listening/Tone.h"

#include <cstddef>
#include <span>
#include <vector>

namespace valveladder {

/// A change of valves that may have stopped half-way.
struct SlowChange {
    std::size_t before = 0; ///< number of the tone that was left
    std::size_t after = 0;  ///< of the tone that was reached; tones between the two are the stop
    double left = 0.0;      ///< of the best reading, samples into the phrase's sound
    double reached = 0.0;
    std::vector<HeardNote::Slowly> readings; ///< best first, at least one

    [[nodiscard]] bool passes(std::size_t tone) const { return tone > before && tone < after; }
};

/// The slow changes of a phrase in order, no two over one another. `stops`: what changes of valves that stop
/// half-way may sound.
[[nodiscard]] std::vector<SlowChange> slowChanges(const PhraseSound& sound, std::span<const Tone> tones,
                                                  const HalfDoneChanges& stops);

/// Whether a tone, by its number, is only where one of the changes stopped.
[[nodiscard]] bool isHalfWay(std::span<const SlowChange> changes, std::size_t tone);

/// Notes in the tones on either side of each change that it is no part of what is steady there.
void leaveOutOfSteady(std::span<const SlowChange> changes, std::span<Tone> tones);

} // namespace valveladder
