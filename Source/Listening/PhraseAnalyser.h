#pragma once

#include "Listening/HalfDone.h"
#include "Listening/HeardNote.h"
#include "Listening/Phrase.h"
#include "Listening/SampleRing.h"

#include <vector>

namespace valveladder {

/// Turns one phrase into notes: cuts it by pitch, then finds in the sound itself when each note began and
/// ended, how long each change took, and where a note spoke twice.
///
/// Notes in order; times in samples of the stream divided by the rate. `ring` holds the sound (no direct
/// current) at `rate` Hz; `stops`: what changes of valves that stop half-way may sound.
[[nodiscard]] std::vector<HeardNote> analysePhrase(const Phrase& phrase, const SampleRing& ring, double rate,
                                                   const HalfDoneChanges& stops);

} // namespace valveladder
