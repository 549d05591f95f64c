#pragma once

#include "Base/Problem.h"
#include "Ladder/Drill.h"

#include <string>

namespace valveladder {

/// Longest rest that the set-up's field takes, beats; a drill file may ask for DrillLimits::maxRestBeats.
inline constexpr double mostFieldRestBeats = 32.0;

/// The four usual segments by number, as the set-up's line shows them: "1 2 3 4", "1 1 4", ... Segments made
/// elsewhere (a drill file) stand as 5, 6, ... in the order given.

/// The order line of `segments`, where `own` are those that are none of the usual four.
struct SegmentOrder {
    std::string line;
    std::vector<Segment> own;
};
[[nodiscard]] SegmentOrder orderOf(const std::vector<Segment>& segments, const Rhythm& dotted);

/// Reads an order line back: drop, repeat or move numbers to drop, duplicate or reorder segments.
[[nodiscard]] Result<std::vector<Segment>> segmentsFrom(const std::string& line, const Rhythm& dotted,
                                                        const std::vector<Segment>& own);

/// The usual four with another ratio for the dotted pairs; `dotted` is the long-short rhythm.
[[nodiscard]] std::vector<Segment> usualSegments(const Rhythm& dotted);

/// The long-short rhythm used in `segments`, 3:1 when there is none.
[[nodiscard]] Rhythm dottedRhythm(const std::vector<Segment>& segments);

} // namespace valveladder
