#pragma once

#include "Listening/HeardNote.h"
#include "Listening/ReportLikelihood.h"
#include "Listening/ScoreMatch.h"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace valveladder {

/// A report of a matched take, and what the sound shows of it.
struct WeighedReport {
    NoteReport report;
    std::optional<std::size_t> extra; ///< into Performance::extras, of an extra note
    ReportEvidence evidence;
    double onsetSeconds = 0.0; ///< of the extra note

    [[nodiscard]] double likelihood() const { return likelihoodOf(weighedAs(report.kind), evidence); }
};

/// Fingers that may have come late in a change.
struct WeighedLate {
    int toIndex = 0; ///< the change's, as in ChangeResult
    Combination fingers;
    LateEvidence evidence;
};

/// Every report of a take that was not judged before; of extra notes beside one note each by itself. `heard`:
/// what `match` was made of, by onset, seconds from tick 0; `tuning`: semitones from A4 = 440 Hz.
[[nodiscard]] std::vector<WeighedReport> weighReports(const ScoreMatch& match,
                                                      std::span<const HeardNote> heard,
                                                      const ExpectedNotes& expected, double tuning);

/// Writes down how likely each report is, and takes back those that are less likely than leastLikelihood.
/// Breaths are found among what is left, by fillMeasures(): so reports are weighed and judged before it, and
/// once more after it.
void judgeReports(Performance& performance, std::span<const WeighedReport> reports);

} // namespace valveladder
