#pragma once

#include "Files/MusicXmlBars.h"

#include <span>

namespace valveladder {

/// The voices of a part with their notes, in order of appearance.
[[nodiscard]] std::vector<PartInfo::Voice> voicesOf(const RawPart& part);

/// Signs of repeats and jumps and tempos hold for all parts, and many programs write them in one part alone:
/// gives `part` those of the same bars of the other parts of its score.
void shareSigns(RawPart& part, std::span<const RawPart> others);

/// One voice as played: bars in order, one note of each chord, ties joined, slurs carried.
[[nodiscard]] Result<Part> assembled(const RawPart& raw, const PartChoice& choice);

} // namespace valveladder
