#pragma once

#include "Listening/HeardNote.h"
#include "Listening/PhraseSound.h"
#include "Listening/SlowChange.h"
#include "Listening/Tone.h"

#include <cstddef>
#include <span>

namespace valveladder {

/// Notes in the notes of a tone whether it was only passed through, and if those before it were, how it began
/// then. `settled`: the tones that were not passed through, in order, their edges found. `number`: of the
/// tone. At least one note.
void markPassing(const PhraseSound& sound, std::span<const Tone> settled, std::size_t number,
                 std::span<HeardNote> notes);

/// Notes in the notes of a tone whether it is only where a change stopped half-way, and if a change that
/// leads to it may have stopped so, how it began then. At least one note.
void markSlow(std::span<const SlowChange> slow, std::size_t number, std::span<HeardNote> notes);

} // namespace valveladder
