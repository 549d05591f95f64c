#pragma once

#include "Listening/Estimates.h"
#include "Listening/Performance.h"

#include <string>
#include <utility>
#include <vector>

namespace valveladder {

/// A note as transcription measures see it.
struct NoteEvent {
    double onset = 0.0; ///< seconds
    double midi = 0.0;  ///< fractional MIDI number, A4 = 69
};

/// Onsets this close, seconds, and pitches this close, semitones, are one note: MIREX note tracking by onset
/// and pitch, as mir_eval.transcription documents it (onset_tolerance 0.05 s, pitch_tolerance 50 cents,
/// offset_ratio None).
inline constexpr double matchOnsetSeconds = 0.05;
inline constexpr double matchSemitones = 0.5;

struct MatchCounts {
    int reference = 0;
    int estimated = 0;
    int matched = 0;

    MatchCounts& operator+=(const MatchCounts& other);
    /// 2 * matched / (reference + estimated), the harmonic mean of precision and recall; 1 when both are
    /// empty.
    [[nodiscard]] double f() const;
};

/// A largest one-to-one matching: pairs of indices (reference, estimated), in order of reference. Distances
/// are rounded to four decimals before they are compared (<=), as mir_eval does.
[[nodiscard]] std::vector<std::pair<int, int>> matchedPairs(const std::vector<NoteEvent>& reference,
                                                            const std::vector<NoteEvent>& estimated);

/// Every note heard, the right, the wrong and the extra ones. `startSeconds`: of tick 0 in the sound.
[[nodiscard]] std::vector<NoteEvent> heardEvents(const Performance& heard, double startSeconds);

/// What a listener got right and wrong against the truth, summed over takes.
struct Tally {
    MatchCounts notes;
    std::vector<double> onsetErrorsMs;      ///< signed: positive = heard late
    std::vector<double> changeoverErrorsMs; ///< signed
    int changeovers = 0;                    ///< known ones
    struct Fault {
        int planted = 0;
        int found = 0;
    };
    Fault wrong;
    Fault missed;
    Fault split;
    Fault clearSplit; ///< those splits of which both articulations sound for 60 ms or more
    Fault breath;
    int falseReports = 0;
    std::vector<double> ratioErrors;     ///< relative
    std::vector<double> ioiSpreadErrors; ///< ms
    std::vector<std::string> stories;    ///< of each failure, for a reader

    /// 0 without notes.
    [[nodiscard]] double falseIn200() const;

    Tally& operator+=(const Tally& other);
};

/// Takes in which every note of the reference was meant: what is heard as wrong, missed, split, extra or as
/// a breath is a false report. Onset errors are those of matched notes, so none exceeds 50 ms.
[[nodiscard]] Tally tallyAgainstAnnotations(const std::vector<NoteEvent>& reference, const Performance& heard,
                                            double startSeconds);

[[nodiscard]] std::vector<double> magnitudesOf(std::vector<double> values);

/// Rows of a Markdown table. `otherF`: note F of another tracker beside it, "-" when there is none.
[[nodiscard]] std::string tallyTableHead(const std::string& title, const std::string& otherName);
[[nodiscard]] std::string tallyTableRow(const std::string& name, const Tally& tally,
                                        const MatchCounts* other = nullptr);

} // namespace valveladder
