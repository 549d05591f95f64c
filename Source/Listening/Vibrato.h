#pragma once

#include "Listening/PitchContour.h"

#include <span>
#include <vector>

namespace valveladder {

/// How far the pitch of each frame swings about its note, semitones; 0 where there is no vibrato or no pitch.
///
/// Notes lie whole semitones apart, so that the pitch modulo a semitone knows no notes: what is left of it is
/// tuning, bends, and vibrato, which is common to all notes of a second of sound. A sine of 3.5 to 8 Hz is
/// taken for vibrato where it makes that remainder stand still (VibratoConstants.h).
[[nodiscard]] std::vector<float> vibratoOf(std::span<const ContourFrame> frames);

} // namespace valveladder
