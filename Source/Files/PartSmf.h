#pragma once

#include "Files/Smf.h"
#include "Music/Marking.h"
#include "Music/Part.h"

#include <span>

namespace valveladder {

/// The lines of a MIDI file to choose from: one for each track and channel that holds notes.
[[nodiscard]] std::vector<PartInfo> partsOf(const SmfFile& file);

/// One of partsOf(file). MIDI holds sounding pitch; `transposition` (sounding - written) makes it the
/// player's part. A chord is its highest or lowest note as chosen; a note that overlaps the next is cut. Bars
/// follow the file's meters.
[[nodiscard]] Result<Part> partFromSmf(const SmfFile& file, const PartChoice& choice, int transposition);

/// The part as format 1, sounding pitch, with a marker at each spot's first change.
[[nodiscard]] SmfFile partFile(const Part& part, const Marking& marking, std::span<const Spot> spots);

} // namespace valveladder
