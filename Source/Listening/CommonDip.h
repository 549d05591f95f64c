#pragma once

#include "Listening/PhraseSound.h"

namespace valveladder {

/// How far all partials of a tone of `period` samples are down together at `place`, dB: the mean over them,
/// by the root of their amplitudes, of how far each lies below the softer of its greatest levels shortly
/// before and after. What stops and is struck anew loses all partials at once; echoes that meet a tone take
/// one partial at a time from it.
[[nodiscard]] double commonDipDb(const PhraseSound& sound, double place, double period);

} // namespace valveladder
