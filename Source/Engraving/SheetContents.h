#pragma once

#include "Engraving/SheetOptions.h"
#include "Engraving/SheetPages.h"
#include "Music/Marking.h"

#include <span>

namespace valveladder {

/// A drill's practice sheet: a line for each rung, or several, with the same title, fingerings and labels as
/// its MusicXML (practiceSheet). `drill` and `instrument` are those that `score` was built from; `bpm` in
/// quarters a minute.
[[nodiscard]] Result<SheetContent> drillContent(const Score& score, const Drill& drill,
                                                const Instrument& instrument, double bpm,
                                                const SheetOptions& options = {});

/// Bars of a part with the fingerings of its marking: bars firstBar .. firstBar + barCount - 1 of Part::bars,
/// all by default. Each spot's number stands boxed over its first change, the spots in words after the music.
/// Where the marking has an alternate, the usual fingering stands under it in brackets. Refused where a
/// length cannot be written.
[[nodiscard]] Result<SheetContent> partContent(const Part& part, const Marking& marking,
                                               std::span<const Spot> spots, const Instrument& instrument,
                                               const std::string& title, int firstBar = 0, int barCount = -1);

} // namespace valveladder
