#pragma once

#include "Valves/Pitch.h"

#include <span>
#include <vector>

namespace valveladder {

/// An expected note as the alignment sees it, sorted by seconds.
struct ExpectedOnset {
    double seconds = 0.0;
    MidiNote pitch = 60;
    double noteValueSeconds = 0.5; ///< the local note value: the scale on which lateness is judged
    bool startsSegment = false;
};

/// A note heard as the alignment sees it, sorted by seconds.
struct HeardOnset {
    double seconds = 0.0;
    MidiNote pitch = 60;
    float extraCost = 1.0F; ///< of matching it to nothing; less for what may be no note at all
};

/// The scale of costs: one missed or one extra note costs 1. Found by trial on simulated players (the seeds
/// of the tests are others), not taken from a publication.
struct AlignmentCosts {
    static constexpr float missed = 1.0F; ///< as much as an extra note (HeardOnset::extraCost)
    /// A little more than either, much less than both: a note in the right place is taken as wrong, one that
    /// is half a note value off on both sides as missed plus extra.
    static constexpr float wrongPitch = 1.1F;
    /// An interval that is off by one note value costs 1, up to these: a restart, an early entrance or a
    /// hesitation costs this once and not again for every note after it. Less at a segment's first note, so
    /// that a segment begun again is taken from its new beginning, in one piece.
    static constexpr float jumpInside = 3.0F;
    static constexpr float jumpToSegment = 1.5F;
    /// For a match away from its time: little, since asynchrony is no fault, and enough to tell a segment
    /// from the same notes in the next one. Beyond `reachSeconds` nothing matches.
    static constexpr double placePerSecond = 0.1;
    static constexpr double reachSeconds = 4.0;
    /// Missed and extra notes (each) across which the interval between two matches is still compared.
    static constexpr int bridge = 3;
    /// Most heard notes considered for an expected one: bounds time and memory for any input.
    static constexpr int band = 512;
    /// Note values shorter than this are judged as if they were this long: human jitter does not shrink with
    /// them.
    static constexpr double minNoteValueSeconds = 0.06;
};

struct Alignment {
    std::vector<int> heardFor; ///< for each expected note the index heard, -1 when missed; increasing
    double cost = 0.0;
};

/// The cheapest order-preserving matching of heard to expected notes. Exact within the band: the cost of an
/// interval depends on the match before, so the state is the last matched pair. A heard pitch less
/// `semitoneShift` is compared with the expected one. Cost O(expected * band).
[[nodiscard]] Alignment alignNotes(std::span<const ExpectedOnset> expected, std::span<const HeardOnset> heard,
                                   int semitoneShift = 0);

} // namespace valveladder
