#include "Listening/WeighedReports.h"

#include "Base/Units.h"
#include "Listening/Estimates.h"
#include "Listening/Measures.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr double silence = 1e-9; ///< full scale = 1; so that its level has a number

/// One look at a take; holds what all reports of it share.
class Weighing {
public:
    Weighing(const ScoreMatch& m, std::span<const HeardNote> notes, const ExpectedNotes& e, double tuning)
        : match(m), heard(notes), expected(e), tuned(tuning) {
        std::vector<double> levels;
        for (const HeardNote& note : heard)
            levels.push_back(note.level);
        usualLevel = levels.empty() ? 1.0 : std::max(silence, median(std::move(levels)));
    }

    std::vector<WeighedReport> run() {
        std::vector<WeighedReport> weighed;
        for (const NoteReport& report : reportsOf(match.performance))
            if (report.kind != ReportKind::extra && !isJudged(report))
                weighed.push_back({report, std::nullopt, evidenceOf(report), 0.0});
        const auto& extras = match.performance.extras;
        for (std::size_t k = 0; k < extras.size(); ++k)
            if (!spokeSo(extras[k].nearIndex) && !extras[k].likelihood)
                weighed.push_back({{extras[k].nearIndex, ReportKind::extra},
                                   k,
                                   ofExtra(extras[k]),
                                   extras[k].onsetSeconds});
        return weighed;
    }

private:
    [[nodiscard]] std::size_t placeOf(int index) const {
        return static_cast<std::size_t>(index - expected.firstIndex);
    }
    [[nodiscard]] const NoteResult& noteAt(int index) const {
        return match.performance.notes[placeOf(index)];
    }
    /// Whether it was weighed when nothing was known of breaths yet.
    [[nodiscard]] bool isJudged(const NoteReport& report) const {
        return report.kind != ReportKind::breath && noteAt(report.note).likelihood;
    }
    [[nodiscard]] bool spokeSo(int index) const { return noteAt(index).split || noteAt(index).crackedMs; }

    [[nodiscard]] double askedSeconds(std::size_t i) const {
        const auto& notes = expected.notes;
        return i + 1 < notes.size() && !notes[i + 1].startsSegment ? notes[i + 1].seconds - notes[i].seconds
                                                                   : expected.ends[i] - notes[i].seconds;
    }

    [[nodiscard]] ReportEvidence evidenceOf(const NoteReport& report) const {
        switch (report.kind) {
        case ReportKind::missed:
            return ofMissed(placeOf(report.note));
        case ReportKind::split:
            return ofSplit(report.note);
        case ReportKind::cracked:
        case ReportKind::breath:
            return ofBeginning(placeOf(report.note));
        default:
            return ofNote(placeOf(report.note));
        }
    }

    [[nodiscard]] ReportEvidence ofSound(std::size_t j, std::size_t i) const {
        const HeardNote& note = heard[j];
        const double pitch = note.midi - tuned;
        ReportEvidence evidence;
        evidence.seconds = note.offset - note.onset;
        evidence.askedSeconds = askedSeconds(i);
        evidence.levelDb = decibels(std::max(silence, note.level) / usualLevel);
        evidence.periodicity = note.periodicity;
        evidence.offPitch = std::abs(pitch - std::round(pitch));
        evidence.struck = note.start == HeardNote::Start::attack;
        evidence.interval = pitch - expected.notes[i].pitch;
        if (note.start == HeardNote::Start::rearticulated)
            evidence.rearticulationLogOdds = note.again.logOdds;
        if (j > 0)
            evidence.silentSeconds = std::max(0.0, note.onset - heard[j - 1].offset);
        return evidence;
    }

    [[nodiscard]] ReportEvidence ofNote(std::size_t i) const {
        return ofSound(static_cast<std::size_t>(match.heardFor[i]), i);
    }

    /// The sound with which the note began: of a cracked one that of the other partial.
    [[nodiscard]] ReportEvidence ofBeginning(std::size_t i) const {
        const auto& onset = match.performance.notes[i].onsetSeconds;
        const auto begun = onset ? std::ranges::find(heard, *onset, &HeardNote::onset) : heard.end();
        return begun == heard.end() ? ofNote(i) : ofSound(static_cast<std::size_t>(begun - heard.begin()), i);
    }

    [[nodiscard]] ReportEvidence ofExtra(const ExtraNote& extra) const {
        const auto found = std::ranges::find(heard, extra.onsetSeconds, &HeardNote::onset);
        if (found == heard.end())
            return {};
        const auto j = static_cast<std::size_t>(found - heard.begin());
        const std::size_t i = placeOf(extra.nearIndex);
        ReportEvidence evidence = ofSound(j, i);
        if (isFirstOfTwo(j, i)) {
            evidence.rearticulationLogOdds = heard[j + 1].again.logOdds;
            evidence.struck = false;
        }
        return evidence;
    }

    /// Whether note i was matched to the second articulation of the tone that sound j began: that they are
    /// two rests on what the second one shows.
    [[nodiscard]] bool isFirstOfTwo(std::size_t j, std::size_t i) const {
        return j + 1 < heard.size() && heard[j + 1].start == HeardNote::Start::rearticulated &&
               match.heardFor[i] == static_cast<int>(j + 1);
    }

    /// The extra sound beside a note that spoke twice, the best where there are several.
    [[nodiscard]] ReportEvidence ofSplit(int index) const {
        std::optional<ReportEvidence> best;
        const auto oddsOf = [](const ReportEvidence& e) { return likelihoodOf(WeighedAs::spoke, e); };
        for (const ExtraNote& extra : match.performance.extras)
            if (extra.nearIndex == index)
                if (const ReportEvidence evidence = ofExtra(extra); !best || oddsOf(evidence) > oddsOf(*best))
                    best = evidence;
        return best.value_or(ReportEvidence{});
    }

    /// How late the player was where note i was missed: as at the last note before it in its segment that was
    /// heard, or the next there. Other segments tell nothing: one may have been begun anew.
    [[nodiscard]] double latenessAt(std::size_t i) const {
        const auto& notes = expected.notes;
        const auto lateness = [&](std::size_t k) {
            return heard[static_cast<std::size_t>(match.heardFor[k])].onset - notes[k].seconds;
        };
        for (std::size_t k = i; k > 0 && !notes[k].startsSegment; --k)
            if (match.heardFor[k - 1] >= 0)
                return lateness(k - 1);
        for (std::size_t k = i + 1; k < notes.size() && !notes[k].startsSegment; ++k)
            if (match.heardFor[k] >= 0)
                return lateness(k);
        return 0.0;
    }

    [[nodiscard]] ReportEvidence ofMissed(std::size_t i) const {
        const double from = expected.notes[i].seconds + latenessAt(i);
        const double to = from + askedSeconds(i);
        std::optional<std::size_t> covering;
        double most = 0.0;
        double covered = 0.0;
        for (std::size_t j = 0; j < heard.size(); ++j) {
            const double part = std::min(to, heard[j].offset) - std::max(from, heard[j].onset);
            covered += std::max(0.0, part);
            if (part > most) {
                most = part;
                covering = j;
            }
        }
        ReportEvidence evidence;
        evidence.askedSeconds = askedSeconds(i);
        if (covering)
            evidence = ofSound(*covering, i);
        evidence.silentSeconds = std::max(0.0, askedSeconds(i) - covered);
        return evidence;
    }

    const ScoreMatch& match;
    std::span<const HeardNote> heard;
    const ExpectedNotes& expected;
    double tuned;
    double usualLevel = 1.0;
};

bool spoke(ReportKind kind) {
    return kind == ReportKind::split || kind == ReportKind::cracked;
}

/// The note spoke at once after all. A sound of its own pitch beside it goes; one of another pitch is an
/// extra note, and is to be weighed as one.
void withdrawSpeech(NoteResult& note, std::span<const ExtraNote> extras, std::vector<bool>& unlikely) {
    if (note.crackedMs && note.onsetSeconds)
        *note.onsetSeconds += *note.crackedMs / msPerSecond;
    takeBackSpeech(note);
    for (std::size_t k = 0; k < extras.size(); ++k)
        if (extras[k].nearIndex == note.index && extras[k].played == note.played)
            unlikely[k] = true;
}

} // namespace

std::vector<WeighedReport> weighReports(const ScoreMatch& match, std::span<const HeardNote> heard,
                                        const ExpectedNotes& expected, double tuning) {
    return Weighing(match, heard, expected, tuning).run();
}

void judgeReports(Performance& performance, std::span<const WeighedReport> reports) {
    std::vector<Correction> unlikely;
    std::vector<ExtraNote> extras; // that stay
    std::vector<bool> unlikelyExtra(performance.extras.size(), false);
    for (const WeighedReport& each : reports) {
        const double likelihood = each.likelihood();
        if (each.extra) {
            performance.extras[*each.extra].likelihood = likelihood;
            unlikelyExtra[*each.extra] = likelihood < leastLikelihood;
            continue;
        }
        const auto note = std::ranges::find(performance.notes, each.report.note, &NoteResult::index);
        if (likelihood >= leastLikelihood)
            note->likelihood = std::min(note->likelihood.value_or(1.0), likelihood);
        else if (spoke(each.report.kind))
            withdrawSpeech(*note, performance.extras, unlikelyExtra);
        else
            unlikely.push_back({each.report, 0});
    }
    for (std::size_t k = 0; k < performance.extras.size(); ++k)
        if (!unlikelyExtra[k])
            extras.push_back(performance.extras[k]);
    performance.extras = std::move(extras);
    if (unlikely.empty())
        countNotesAgain(performance); // corrected() does so too, but not without a correction
    else
        performance = corrected(std::move(performance), unlikely);
}

} // namespace valveladder
