#pragma once

#include "Listening/Estimates.h"
#include "Listening/Performance.h"
#include "Score/Score.h"
#include "Tempo/TempoMap.h"

#include <span>

namespace valveladder {

/// Fewest timed notes of a segment for which a line leaves something over: two lie on it always.
inline constexpr int minNotesForLine = 3;

/// Counts a segment's notes, and says whether it was played and is clean; what is measured stays.
void countNotes(SegmentResult& segment, std::span<const NoteResult> notes, int extras);

/// The same for all segments, after notes were judged anew or extras were dropped. A segment holds the notes
/// that follow those of the one before it; where the two do not agree, the segments stay.
void countNotesAgain(Performance& performance);

/// Fills every measure that follows from outcomes and onsets: deviations, IOI residuals, ratios, segments,
/// the take's asynchrony. Used by the MIDI and the sound listener alike, so that both mean the same thing.
///
/// In: notes with outcome, played, onset and offset set, sorted by index and within the score (others are
/// dropped); extras; changes with what the source measured. A breathBefore that the source heard is kept;
/// others are set from offsets, and the earlier tries of segments. Whatever was measured before is measured
/// anew.
///
/// - rawDeviationMs: onset less the score's own time, rhythm included.
/// - deviationMs: what is left of it after one robustLine per segment (over score seconds), so that neither a
///   constant lateness nor a steady drift of tempo counts as unevenness.
/// - ioiResidualMs: deviationMs less that of the note before, where both were heard.
/// - onsetSpreadMs, ioiSpreadMs: residualSpreadEstimate of these; what `onsetNoiseMs` alone would show is
///   taken off in quadrature (independent errors add so), down to zero, so that a sound that does not tell
///   its onsets exactly is not counted as the player's unevenness.
/// - ioiSpreadPercent: against the segment's mean note value at the score's tempo.
/// - longShortRatio: ratioEstimate over the intervals that begin with long and with short notes.
/// - breath: silence of more than breathGapMs beyond the player's usual gap after notes of that length in
/// that
///   segment (or in the take, or in proportion to the length, where there are too few), whether the score
///   slurs them or not, and by 2.2 times the spread of such gaps as well, at most a quarter of the note.
///   Where there are too few for that, beyond the score's own gap. Never less than the score asks for.
/// A measure that is absent says why in `remarks`, once for the take.
/// `onsetNoiseMs`: for each note of the score the standard deviation with which the source knows its onset;
/// empty = exactly.
void fillMeasures(Performance& performance, const Score& score, const TempoMap& tempo,
                  std::span<const double> onsetNoiseMs = {});

/// Seconds from tick 0 of the score.
[[nodiscard]] double scoreSeconds(const TempoMap& tempo, Tick tick);

/// The mean note value of a span, ticks: the mean length over the shortest period of its rhythm.
/// Precondition: the span holds a note.
[[nodiscard]] double noteValueTicks(const Score& score, const ScoreSpan& span);

} // namespace valveladder
