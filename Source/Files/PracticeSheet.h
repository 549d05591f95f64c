#pragma once

#include "Base/Problem.h"
#include "Engraving/SheetOptions.h"
#include "Score/Score.h"

#include <string>

namespace valveladder {

/// One pass of a drill as MusicXML 4.0 (score-partwise) for notation programs: transposing part with the
/// instrument's clef, bars without the count-in, segment rhythms with tuplets, slurs, accents, a breath mark
/// after each segment, fingerings, rung as rehearsal mark, segment in words, and the tempo as metronome mark
/// and as sound, since some programs read only one of them. Same input, same bytes.
/// `drill` and `instrument` are those that `score` was built from; `bpm` in quarters a minute.
[[nodiscard]] Result<std::string> practiceSheet(const Score& score, const Drill& drill,
                                                const Instrument& instrument, double bpm,
                                                const SheetOptions& options = {});

} // namespace valveladder
