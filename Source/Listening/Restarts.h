#pragma once

#include "Listening/ScoreMatch.h"

#include <span>
#include <vector>

namespace valveladder {

/// A try of a segment that was broken off: the segment was begun again after it.
struct EarlierTry {
    int span = 0; ///< into Score::spans
    int firstHeard = 0;
    int heardCount = 0;
    double seconds = 0.0;      ///< when it began
    double againSeconds = 0.0; ///< when the segment was begun again
};

/// Finds the tries that were broken off, in order: at least two notes from the segment's beginning, a pause,
/// and the segment's beginning again before the next segment would have come. `heard` sorted by onset;
/// `semitoneShift` as MatchOptions has it.
[[nodiscard]] std::vector<EarlierTry> findEarlierTries(std::span<const NoteEvidence> heard,
                                                       const ExpectedNotes& expected, const Score& score,
                                                       int semitoneShift);

} // namespace valveladder
