#pragma once

#include "Listening/HeardNote.h"
#include "Listening/PhraseSound.h"
#include "Listening/Tone.h"

#include <span>

namespace valveladder {

/// Finds how each tone of a phrase began and ended: onset, its noise, start, changeover and offset. At least
/// one tone.
void findEdges(const PhraseSound& sound, std::span<Tone> tones);

/// How a tone began whose edges were found, in seconds of the stream.
[[nodiscard]] HeardNote::Beginning beginningOf(const PhraseSound& sound, const Tone& tone);

} // namespace valveladder
