#pragma once

#include "Listening/Evaluation.h"
#include "Listening/Performance.h"
#include "Support/SoundTake.h"

#include <span>
#include <string>
#include <vector>

namespace valveladder::testing {

/// Times of `heard` are seconds from tick 0, which lies at `startSeconds` in the sound.
[[nodiscard]] Tally tallyTake(const Score& score, double bpm, const SoundTake& take, const Performance& heard,
                              double startSeconds, const std::string& name);

[[nodiscard]] std::vector<NoteEvent> referenceNotes(const SoundPlan& truth);

/// Counts of matchedPairs().
[[nodiscard]] MatchCounts matchNotes(const std::vector<NoteEvent>& reference,
                                     const std::vector<NoteEvent>& estimated);

} // namespace valveladder::testing
