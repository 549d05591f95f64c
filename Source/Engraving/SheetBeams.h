#pragma once

#include "Engraving/SheetLayout.h"

namespace valveladder {

/// Gives the notes of one bar their beams: those with flags that lie in one beat, `beat` long, from the first
/// symbol's start, share them.
void beamBar(std::vector<SheetSymbol>& symbols, std::int64_t beat);

} // namespace valveladder
