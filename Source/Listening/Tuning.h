#pragma once

#include "Listening/HeardNote.h"
#include "Score/Score.h"

#include <optional>
#include <span>
#include <vector>

namespace valveladder {

/// Pitches that concert pitch has had: 415 Hz is a semitone under 440, 466 a semitone over it.
inline constexpr double lowestTuningHz = 412.0;
inline constexpr double highestTuningHz = 469.0;

/// How far, in semitones, the take sounds from A4 = 440 Hz, modulo a semitone: -0.5..0.5, the circular mean
/// of the notes' distances from equal temperament, each counted by the time it was settled. 0 when empty.
[[nodiscard]] double tuningFraction(std::span<const HeardNote> notes);

/// A4 in Hz that lies `semitones` from 440.
[[nodiscard]] double tuningHz(double semitones);

/// The whole-semitone candidates for a fraction: every shift fraction + k with A4 within the limits above.
[[nodiscard]] std::vector<double> tuningCandidates(double fraction);

} // namespace valveladder
