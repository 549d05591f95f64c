#pragma once

#include "Listening/Performance.h"
#include "Support/SoundTake.h"

#include <span>
#include <string>
#include <vector>

namespace valveladder::testing {

/// A note as the transcription measures of MIREX see it.
struct NoteEvent {
    double onset = 0.0; ///< seconds
    double midi = 0.0;  ///< fractional
};

struct MatchCounts {
    int reference = 0;
    int estimated = 0;
    int matched = 0;

    MatchCounts& operator+=(const MatchCounts& other);
    [[nodiscard]] double f() const;
};

/// Largest one-to-one matching of notes with onsets within 50 ms and pitches within 50 cents: the onset-only
/// rule of MIREX note tracking, as mir_eval.transcription documents it.
[[nodiscard]] MatchCounts matchNotes(const std::vector<NoteEvent>& reference,
                                     const std::vector<NoteEvent>& estimated);

/// What a take's verdict got right and wrong against the truth, summed over takes.
struct Tally {
    MatchCounts notes;
    std::vector<double> onsetErrorsMs;      ///< signed, right notes
    std::vector<double> changeoverErrorsMs; ///< signed
    int changeovers = 0;                    ///< planted
    struct Fault {
        int planted = 0;
        int found = 0;
    };
    Fault wrong;
    Fault missed;
    Fault split;
    Fault breath;
    int falseReports = 0;
    std::vector<double> ratioErrors;     ///< relative
    std::vector<double> ioiSpreadErrors; ///< ms
    std::vector<std::string> stories;    ///< of each failure, for a reader

    Tally& operator+=(const Tally& other);
};

/// Times of `heard` are seconds from tick 0, which lies at `startSeconds` in the sound.
[[nodiscard]] Tally tallyTake(const Score& score, double bpm, const SoundTake& take, const Performance& heard,
                              double startSeconds, const std::string& name);

[[nodiscard]] std::vector<NoteEvent> referenceNotes(const SoundPlan& truth);

[[nodiscard]] double quantile(std::vector<double> values, double share);
[[nodiscard]] std::vector<double> magnitudes(std::vector<double> values);

} // namespace valveladder::testing
