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

/// Places in proportion to time, so that a rhythm is seen, on a line of `width` staff spaces: but nothing is
/// nearer to the next sign than leaves room for its accidental, as long as there is room, and a rest that
/// fills a third of the page or more, as after a cell of two notes in a bar of its own, has less.
[[nodiscard]] std::vector<TimeKnot> clearSpacing(const Score& score, const SheetLayout& layout,
                                                 const Page& page, double width);

} // namespace valveladder
