#pragma once

#include "Support/SoundPlan.h"

#include <string>
#include <vector>

namespace valveladder::testing {

/// Rendered sound (mono, full scale = 1) with what is true of it. Nothing here is a live player.
struct SoundTake {
    std::vector<float> samples;
    double rate = 44100.0;
    SoundPlan truth; ///< onsets are audible references: see audibleOnset, prevailingOnset
};

/// The reference for the onset of a struck note, measured on the note alone: the first time at which the root
/// mean square over one period (at least 5 ms), centred, reaches a tenth of the power (-10 dB) of its
/// greatest value within the first 150 ms of the note or its length. Seconds from `struck`.
[[nodiscard]] double audibleOnset(const std::vector<float>& alone, double rate, double struck, double length,
                                  double hz);

/// The same for a note struck while others die away: from `onset` on, the first time at which the note alone
/// (`own`) is louder than all else alone (`others`), by root mean square over the same window; no later than
/// 150 ms after it. Both from the start of the take; seconds.
[[nodiscard]] double prevailingOnset(const std::vector<float>& own, const std::vector<float>& others,
                                     double rate, double onset, double hz);

} // namespace valveladder::testing
