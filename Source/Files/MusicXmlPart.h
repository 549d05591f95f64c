#pragma once

#include "Files/MusicXmlBars.h"

namespace valveladder {

/// The voices of a part with their notes, in order of appearance.
[[nodiscard]] std::vector<PartInfo::Voice> voicesOf(const RawPart& part);

/// One voice as played: bars in order, one note of each chord, ties joined, slurs carried.
[[nodiscard]] Result<Part> assembled(const RawPart& raw, const PartChoice& choice);

} // namespace valveladder
