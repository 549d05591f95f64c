#pragma once

#include "Listening/HeardNote.h"
#include "Listening/Performance.h"
#include "Listening/ScoreMatch.h"
#include "Listening/WeighedReports.h"
#include "Score/Score.h"
#include "Tempo/TempoMap.h"

#include <optional>
#include <span>
#include <vector>

namespace valveladder {

/// Drops what is no note of the player's (far softer than the take, too short or too vague to be one);
/// articulations on one pitch all stay.
[[nodiscard]] std::vector<HeardNote> dropImplausible(std::vector<HeardNote> notes);

/// And joins articulations on one pitch for which there is too little evidence. `score` says whether
/// articulations on one pitch are asked for.
[[nodiscard]] std::vector<HeardNote> keepPlausible(std::vector<HeardNote> notes, const Score& score);

struct SoundMatched {
    ScoreMatch match;
    ExpectedNotes expected;           ///< what it was matched to, earlier tries apart
    std::vector<HeardNote> heard;     ///< what it was made of
    std::vector<double> onsetNoiseMs; ///< for each note of the score, as fillMeasures takes it
    std::vector<WeighedLate> late;    ///< fingers that may have come late, the unlikely too
};

/// Matches heard notes to the score and fills notes, extras, changes and the tuning of a Performance; the
/// measures that follow are fillMeasures'. Times of `notes` are seconds from tick 0. `tuningSemitones`: how
/// far A4 lies from 440 Hz.
[[nodiscard]] SoundMatched matchSound(std::span<const HeardNote> notes, const Score& score,
                                      const TempoMap& tempo, TakeSpan span, double tuningSemitones);

/// Cost of matching at a tuning, to choose among candidates; a missed or an extra note costs 1.
[[nodiscard]] double matchCost(std::span<const HeardNote> notes, const Score& score, const TempoMap& tempo,
                               TakeSpan span, double tuningSemitones);

} // namespace valveladder
