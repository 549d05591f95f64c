#pragma once

#include "Listening/Performance.h"
#include "Score/Score.h"
#include "Tempo/TempoMap.h"

#include <span>
#include <vector>

namespace valveladder {

/// Fills every measure that follows from outcomes and onsets: deviations, IOI residuals, ratios, segments,
/// the take's asynchrony. Used by the MIDI and the sound listener alike, so that both mean the same thing.
/// In: notes with outcome, played, onset and offset set; extras; changes with what the source measured.
void fillMeasures(Performance& performance, const Score& score, const TempoMap& tempo);

[[nodiscard]] double median(std::vector<double> values); ///< precondition: not empty
/// 1.4826 * median |x - median|; precondition: not empty.
[[nodiscard]] double scaledMad(const std::vector<double>& values);

} // namespace valveladder
