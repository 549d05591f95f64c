#pragma once

#include "Engraving/Engraving.h"
#include "Screen/EngravingPainter.h"

#include <optional>

namespace valveladder {

/// One segment of a rung, engraved whole on one staff as large as a room allows.
struct SegmentStaff {
    Engraving music;
    StaffPlace place;
    float foot = 0.0F; ///< px, under the lowest ink
};

/// Which part of a segment stands on a line, where its bars stand on several.
struct SegmentLine {
    int number = 0;
    int of = 1;
};

/// Nothing where the rhythm cannot be written, or there is no such segment or line.
[[nodiscard]] std::optional<SegmentStaff> segmentStaff(const Score& score, const Instrument& instrument,
                                                       const Drill& drill, Spelling names, int rung,
                                                       int segment, juce::Rectangle<float> room,
                                                       float largestSpace, const SegmentLine& line = {});

} // namespace valveladder
