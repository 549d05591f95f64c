#pragma once

#include "Engraving/Page.h"

#include <vector>

namespace valveladder {

/// A valve held down without a break, over one note or several.
struct ValveHold {
    int valve = 1; ///< 1..4
    Tick from = 0;
    Tick to = 0;

    bool operator==(const ValveHold&) const = default;
};

/// What the valves do over a page, by valve and time. A valve that two notes share stays down between them
/// when they touch; the last note of a segment ends its holds.
[[nodiscard]] std::vector<ValveHold> valveStrip(const Score& score, const Page& page);

} // namespace valveladder
