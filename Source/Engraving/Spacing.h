#pragma once

#include "Engraving/Engraving.h"

#include <span>

namespace valveladder {

/// Room that the sign of a repeat's start or end takes beside a bar line's own, staff spaces.
inline constexpr double repeatRoom = 1.8;

/// Places at which a page's notes and rests lie when nothing is stretched, staff spaces from the first:
/// longer values get more room, though less than their time, nothing collides, and bar lines keep their own.
/// The last knot is the page's end. `textWidths`: of what stands under each of Score::notes, staff spaces;
/// empty = 0.
[[nodiscard]] std::vector<TimeKnot> naturalSpacing(const Score& score, const SheetLayout& layout,
                                                   const Page& page, std::span<const double> textWidths = {});

/// Where a rest fills a third of a page or more, as after a cell of two notes in a bar of its own: places on
/// which the notes have most of the page, in proportion to their time, and the signs of the rest share what
/// is left. Else empty.
[[nodiscard]] std::vector<TimeKnot> squeezedRest(const Score& score, const SheetLayout& layout,
                                                 const Page& page);

} // namespace valveladder
