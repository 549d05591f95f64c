#pragma once

#include "Listening/PhraseSound.h"
#include "Listening/Tone.h"

#include <vector>

namespace valveladder {

/// Takes out tones that might only be passed through by one glide from the tone before to the tone after.
void dropPassedThrough(const PhraseSound& sound, std::vector<Tone>& tones);

/// Joins tones that are only how the next one speaks with it (Scoop.h).
void joinScoops(const PhraseSound& sound, std::vector<Tone>& tones);

} // namespace valveladder
