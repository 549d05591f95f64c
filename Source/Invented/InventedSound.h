#pragma once

#include "Invented/InventedPlayer.h"

#include <span>
#include <vector>

namespace valveladder {

/// How the invented player sounds: a plain sum of harmonics, no instrument's, that bends from one pitch to
/// the next where a note begins before the one before it has ended. Mono, full scale = 1, from the drill's
/// start.
[[nodiscard]] std::vector<float> inventedSound(std::span<const PlayedMessage> played, double bpm,
                                               double sampleRate);

} // namespace valveladder
