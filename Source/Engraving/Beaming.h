#pragma once

#include "Engraving/Engraving.h"

#include <vector>

namespace valveladder {

/// y of the middle line, staff spaces below the top one.
inline constexpr double staffMiddle = 2.0;

/// A head on its way into the picture.
struct StemmedHead {
    SheetSymbol symbol;
    EngravedHead head;
    bool stemUp = true;
    double headSide = 0.0; ///< y where the head, with its accent, ends on the side away from the stem
};

/// Gives every head its stem, beams, flags and tuplet figures. Beamed notes share one direction: away from
/// the middle line as the note furthest from it asks; without beams each note decides for itself.
void placeStems(std::vector<StemmedHead>& heads, Engraving& picture);

} // namespace valveladder
