#pragma once

#include "Listening/PhraseSound.h"
#include "Listening/Tone.h"

#include <cstdint>
#include <vector>

namespace valveladder {

/// Where in a tone its level and its articulations can be looked at: it is neither bent nor blurred by the
/// one before. `changeoverAfter`: how long the change to the next tone takes, samples. The tone's edges were
/// found.
[[nodiscard]] SoundSpan steadySpan(const PhraseSound& sound, const Tone& tone, double changeoverAfter);

/// Where HeardNote::shape of a tone begins, samples into the phrase's sound: where it is steady, but with its
/// onset where that lies under the sound of the one before.
[[nodiscard]] double shapeStart(const Tone& tone, const SoundSpan& steady);

/// HeardNote::shape of a tone.
[[nodiscard]] std::vector<std::int8_t> shapeOf(const PhraseSound& sound, const Tone& tone,
                                               const SoundSpan& steady);

} // namespace valveladder
