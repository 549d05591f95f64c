#pragma once

#include "Listening/NoteAlignment.h"
#include "Listening/Performance.h"
#include "Score/Score.h"
#include "Tempo/TempoMap.h"

#include <optional>
#include <span>
#include <vector>

namespace valveladder {

/// The part of the score that a take covers, seconds from tick 0; notes outside are not expected.
struct TakeSpan {
    double fromSeconds = -1e9;
    double toSeconds = 1e9;
};

/// What a take is expected to hold, in the score's order.
struct ExpectedNotes {
    int firstIndex = 0; ///< into Score::notes
    std::vector<ExpectedOnset> notes;
    std::vector<double> ends; ///< seconds, one for each note
};

[[nodiscard]] ExpectedNotes expectedNotes(const Score& score, const TempoMap& tempo, TakeSpan span);

/// A note that was played, as the score weighs it, whatever it was heard by. Seconds from tick 0.
struct NoteEvidence {
    double onset = 0.0;
    std::optional<double> offset;       ///< absent where the source does not carry it
    MidiNote pitch = 60;                ///< sounding
    float extraCost = 1.0F;             ///< HeardOnset::extraCost
    bool strikesAgain = false;          ///< the pitch before it, within one tone or too soon for a breath
    std::optional<double> changeoverMs; ///< from the note before, where it was measured
};

struct MatchOptions {
    TakeSpan span;
    int semitoneShift = 0; ///< of the whole take, for matching
    int allowedShift = 0;  ///< of it, what is no fault: a note that is off by just this is right
};

/// Notes, extras and changes of a Performance, and which evidence each note rests on.
struct ScoreMatch {
    Performance performance;
    std::vector<int> heardFor; ///< for each note of `performance` an index into the evidence, -1 when missed
};

[[nodiscard]] std::vector<HeardOnset> onsetsOf(std::span<const NoteEvidence> heard);

/// Matches what was heard, sorted by onset, to the score. In two passes: between two near candidates for one
/// note the place decides, and asynchrony, being no fault, must not sway that.
///
/// A note that the score does not ask for is an extra. It makes a note `split` when it strikes that note's
/// pitch again (within the note's time and before a breath could be taken, or as strikesAgain says), or when
/// it is how the note came to speak: a short sound that ends where the note begins. Where that is another
/// partial of the note's valves, the note cracked, and begins there.
///
/// Of a segment that was begun again the last try counts; the earlier ones (Restarts.h) are told by remarks
/// and counted in `segments`, of which nothing else is filled.
[[nodiscard]] ScoreMatch matchToScore(std::span<const NoteEvidence> heard, const Score& score,
                                      const TempoMap& tempo, const MatchOptions& options);

} // namespace valveladder
