#pragma once

#include "Engraving/SheetLayout.h"
#include "Score/Score.h"

#include <vector>

namespace valveladder {

/// A stretch of a drill that is seen at once: whole bars of one segment, or a part of it where the segment is
/// long. Ticks are the score's.
struct Page {
    int span = 0;     ///< into Score::spans
    int firstBar = 0; ///< into SheetLayout::bars
    int barCount = 1;
    Tick start = 0; ///< of the music shown; symbols before it belong to the page before
    Tick end = 0;
    int firstNote = 0; ///< into Score::notes
    int noteCount = 0;
    bool opensSpan = true;  ///< the segment begins here
    bool closesSpan = true; ///< and ends here

    bool operator==(const Page&) const = default;
};

/// Pages of a drill, in order. `widestQuarters` is how much music fits side by side; a bar that is longer
/// stands alone.
[[nodiscard]] std::vector<Page> pagesOf(const Score& score, const SheetLayout& layout, double widestQuarters);

/// Quarters that fit into `spaces` staff spaces so that the shortest note of the drill and its accidental
/// keep clear of the next.
[[nodiscard]] double quartersWithin(const Score& score, double spaces);

} // namespace valveladder
