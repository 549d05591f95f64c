#pragma once

#include "Guide/GuideSettings.h"
#include "Score/Score.h"

#include <cstdint>

namespace valveladder {

/// Where the musical time of a block stands in the drill.
struct DrillPosition {
    bool inside = false; ///< false before the start, and after the end when not repeating
    std::int64_t lap = 0;
    Tick tick = 0; ///< 0..score.length
};

/// Position in the drill as a pure function of the host's musical time. A millionth of a tick before a tick
/// is that tick, so that a host's rounding does not put a lap's first sample into the lap before.
[[nodiscard]] DrillPosition drillPosition(const Score& score, const GuideSettings& settings,
                                          double ppq) noexcept;

/// The part of a lap that a take covers: from its first note's onset to its last note's end, host quarters.
struct DrillWindow {
    std::int64_t lap = 0;
    double startPpq = 0.0;
    double endPpq = 0.0;      ///< == startPpq: there is nothing to play
    double lapQuarters = 0.0; ///< distance to the same window of the next lap; 0 = not repeated
};

/// The window of the lap that holds `ppq`; before the start that of lap 0.
[[nodiscard]] DrillWindow drillWindow(const Score& score, const GuideSettings& settings, double ppq) noexcept;

} // namespace valveladder
