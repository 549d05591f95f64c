#pragma once

#include "Engraving/SheetPages.h"

namespace valveladder {

/// Puts over a line of music what its bars say of the order they are played in: segno, coda and the words for
/// jumps in one row, the brackets of endings over them. `above`: how far the line reaches over its staff,
/// staff spaces; returns how far it reaches then. Places are from the staff's top left corner.
[[nodiscard]] double addRepeatSigns(const SheetLayout& layout, Engraving& music,
                                    std::vector<SheetText>& texts, double above);

} // namespace valveladder
