#pragma once

#include "Listening/HeardNote.h"
#include "Listening/PhraseSound.h"
#include "Listening/Tone.h"

#include <vector>

namespace valveladder {

/// The note that a tone is, and one more for each time that it is struck again; at least one, times in
/// seconds of the stream. The tone's edges were found. `changeoverAfter`: how long the change to the next
/// tone takes, samples.
[[nodiscard]] std::vector<HeardNote> notesOf(const PhraseSound& sound, const Tone& tone,
                                             double changeoverAfter);

} // namespace valveladder
