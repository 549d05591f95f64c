#pragma once

#include "Findings/Evidence.h"

#include <span>
#include <string>
#include <vector>

namespace valveladder {

/// Whether relaxed playing keeps what firm playing built: the relaxed even segment against the firm even one
/// of the same rung in the same take. Positive = the relaxed one is worse.
struct CarryOver {
    int rung = -1;          ///< -1: all rungs together
    Estimate slowerPercent; ///< of changeovers; n = pairs of segments, 0 = not measured
    Estimate moreUnevenMs;  ///< of the spread of inter-onset intervals; n likewise
    double pSlower = 1.0;   ///< two-sided, not adjusted
    double pUneven = 1.0;
    bool claimed = false; ///< one of all rungs, in which more than chance is told
    bool natural = false; ///< both intervals lie under the margins: relaxed is as quick and as even as firm
};

namespace carryOver {
/// Differences up to these pass as none: 6 ms is what is heard (Friberg & Sundberg 1995), half of it a spread
/// that nobody hears; a tenth of a changeover is ours, no source.
inline constexpr double marginMs = 3.0;
inline constexpr double marginPercent = 10.0;
inline constexpr int leastPairs = 4;
} // namespace carryOver

/// All rungs together first, then each rung with enough pairs. Empty when the drill has no such two segments.
[[nodiscard]] std::vector<CarryOver> carryOvers(std::span<const TakeEvidence> takes);

} // namespace valveladder
