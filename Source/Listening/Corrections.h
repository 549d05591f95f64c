#pragma once

#include "Listening/Performance.h"
#include "Tempo/TempoPlan.h"

#include <array>
#include <optional>
#include <span>
#include <vector>

namespace valveladder {

/// What is told of a note that was not as asked: claims of the listening, to which the player may say that
/// the note was right. Figures (how early, how far out of tune) are measurements and no such claims.
enum class ReportKind {
    wrong,   ///< another note than expected
    missed,  ///< not heard
    split,   ///< spoke twice, or through a note that is none of its valves' partials
    cracked, ///< spoke through another partial of its valves
    breath,  ///< a breath before it, inside a segment
    valves,  ///< valve sensors showed another combination, though it was not another note
    extra    ///< notes beside it that are not how it came to speak
};
inline constexpr int reportKinds = 7;

struct NoteReport {
    int note = 0; ///< into Score::notes
    ReportKind kind = ReportKind::wrong;

    auto operator<=>(const NoteReport&) const = default;
};

/// The player says that what was reported of a note was not so.
struct Correction {
    NoteReport report;
    UtcMs saidUtc = 0;

    auto operator<=>(const Correction&) const = default;
};

/// All that is reported of the notes, by note and then by kind, each once: several extra notes beside one
/// note are one report.
[[nodiscard]] std::vector<NoteReport> reportsOf(const Performance& performance);

/// How likely a report of it is so, 0..1; of several extra notes the likeliest, of a note of which several
/// things are reported the least of them. Nothing where it is not known: of what MIDI or sensors told, and of
/// takes from before it was.
[[nodiscard]] std::optional<double> likelihoodOf(const Performance& performance, const NoteReport& report);

/// The performance with the player's word taken for it: a note that was called wrong or missed is right, one
/// that was called split or cracked is not (the sounds that it was called so for are no extra notes either),
/// and the segments are counted again. What was measured stays; what was not, is not made up. A correction of
/// something that is not reported does nothing. Precondition: `heard` is as heard, with its notes, extras and
/// segments.
[[nodiscard]] Performance corrected(Performance heard, std::span<const Correction> corrections);

/// The note spoke at once and without a crack after all. What was heard beside it stays.
void takeBackSpeech(NoteResult& note);

/// How often players said "that was right" to what was reported of their takes.
struct CorrectionTally {
    struct Count {
        int reported = 0;
        int right = 0; ///< of these, as players say

        Count& operator+=(const Count& other);
    };
    int takes = 0;
    int correctedTakes = 0; ///< in which a player said it at all
    int notes = 0;          ///< expected in all of the takes
    std::array<Count, reportKinds> kinds;

    /// `heard` as heard.
    void add(const Performance& heard, std::span<const Correction> corrections);
    [[nodiscard]] Count all() const;
    [[nodiscard]] const Count& of(ReportKind kind) const { return kinds[static_cast<std::size_t>(kind)]; }
    /// Reports that were not so, in 200 notes. A lower bound: players need not object to what they do not
    /// see. 0 without notes.
    [[nodiscard]] double falseIn200() const;

    CorrectionTally& operator+=(const CorrectionTally& other);
};

} // namespace valveladder
