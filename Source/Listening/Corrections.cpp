#include "Listening/Corrections.h"

#include "Listening/Measures.h"

#include <algorithm>
#include <set>

namespace valveladder {

namespace {

bool splitInAnyWay(const NoteResult& note) {
    return note.split || note.crackedMs;
}

/// The notes whose other sounds are how they came to speak, and are told with them.
std::set<int> splitNotes(const Performance& performance) {
    std::set<int> notes;
    for (const NoteResult& note : performance.notes)
        if (splitInAnyWay(note))
            notes.insert(note.index);
    return notes;
}

void addReports(const NoteResult& note, std::vector<NoteReport>& reports) {
    const auto add = [&](bool told, ReportKind kind) {
        if (told)
            reports.push_back({note.index, kind});
    };
    add(note.outcome == Outcome::wrong, ReportKind::wrong);
    add(note.outcome == Outcome::missed, ReportKind::missed);
    add(note.split && !note.crackedMs, ReportKind::split);
    add(note.crackedMs.has_value(), ReportKind::cracked);
    add(note.breathBefore, ReportKind::breath);
    add(note.valvesWrong && note.outcome != Outcome::wrong, ReportKind::valves); // else it is told by that
}

bool isReported(const NoteResult& note) {
    std::vector<NoteReport> reports;
    addReports(note, reports);
    return !reports.empty();
}

/// Holds a performance while it is corrected.
class Correcting {
public:
    explicit Correcting(Performance heard) : performance(std::move(heard)), split(splitNotes(performance)) {}

    void apply(const NoteReport& report) {
        const auto note = std::ranges::find(performance.notes, report.note, &NoteResult::index);
        if (report.kind == ReportKind::extra && !split.contains(report.note))
            dropExtras(report.note);
        if (note != performance.notes.end())
            judge(*note, report.kind);
    }

    Performance result() {
        for (NoteResult& note : performance.notes)
            if (note.likelihood && !isReported(note))
                note.likelihood.reset();
        countNotesAgain(performance);
        return std::move(performance);
    }

private:
    static bool isCalled(const NoteResult& note, ReportKind kind) {
        return splitInAnyWay(note) && (kind == ReportKind::cracked) == note.crackedMs.has_value();
    }

    void judge(NoteResult& note, ReportKind kind) {
        switch (kind) {
        case ReportKind::wrong:
            if (note.outcome == Outcome::wrong) {
                note.outcome = Outcome::right;
                note.valvesWrong = false; // was told with it
            }
            break;
        case ReportKind::missed:
            note.outcome = note.outcome == Outcome::missed ? Outcome::right : note.outcome;
            break;
        case ReportKind::split:
        case ReportKind::cracked:
            if (isCalled(note, kind)) {
                takeBackSpeech(note);
                dropExtras(note.index);
            }
            break;
        case ReportKind::breath:
            note.breathBefore = false;
            break;
        case ReportKind::valves:
            note.valvesWrong = note.valvesWrong && note.outcome == Outcome::wrong;
            break;
        case ReportKind::extra:
            break;
        }
    }

    void dropExtras(int note) {
        std::erase_if(performance.extras, [note](const ExtraNote& extra) { return extra.nearIndex == note; });
    }

    Performance performance;
    std::set<int> split; ///< as heard
};

} // namespace

std::vector<NoteReport> reportsOf(const Performance& performance) {
    std::vector<NoteReport> reports;
    for (const NoteResult& note : performance.notes)
        addReports(note, reports);
    const std::set<int> split = splitNotes(performance);
    for (const ExtraNote& extra : performance.extras)
        if (!split.contains(extra.nearIndex))
            reports.push_back({extra.nearIndex, ReportKind::extra});
    std::ranges::sort(reports);
    const auto twice = std::ranges::unique(reports);
    reports.erase(twice.begin(), twice.end());
    return reports;
}

std::optional<double> likelihoodOf(const Performance& performance, const NoteReport& report) {
    std::optional<double> likelihood;
    if (report.kind == ReportKind::extra) {
        for (const ExtraNote& extra : performance.extras)
            if (extra.nearIndex == report.note && extra.likelihood)
                likelihood = std::max(likelihood.value_or(0.0), *extra.likelihood);
        return likelihood;
    }
    const auto note = std::ranges::find(performance.notes, report.note, &NoteResult::index);
    return note == performance.notes.end() || report.kind == ReportKind::valves ? std::nullopt
                                                                                : note->likelihood;
}

void takeBackSpeech(NoteResult& note) {
    note.split = false;
    note.crackedMs.reset();
    note.crackedThrough = -1;
}

Performance corrected(Performance heard, std::span<const Correction> corrections) {
    if (corrections.empty())
        return heard;
    Correcting correcting(std::move(heard));
    for (const Correction& each : corrections)
        correcting.apply(each.report);
    return correcting.result();
}

CorrectionTally::Count& CorrectionTally::Count::operator+=(const Count& other) {
    reported += other.reported;
    right += other.right;
    return *this;
}

void CorrectionTally::add(const Performance& heard, std::span<const Correction> corrections) {
    ++takes;
    notes += static_cast<int>(heard.notes.size());
    bool said = false;
    for (const NoteReport& report : reportsOf(heard)) {
        Count& count = kinds[static_cast<std::size_t>(report.kind)];
        ++count.reported;
        const bool right = std::ranges::find(corrections, report, &Correction::report) != corrections.end();
        count.right += right;
        said = said || right;
    }
    correctedTakes += said;
}

CorrectionTally::Count CorrectionTally::all() const {
    Count sum;
    for (const Count& count : kinds)
        sum += count;
    return sum;
}

double CorrectionTally::falseIn200() const {
    constexpr double perNotes = 200.0;
    return notes == 0 ? 0.0 : perNotes * all().right / notes;
}

CorrectionTally& CorrectionTally::operator+=(const CorrectionTally& other) {
    takes += other.takes;
    correctedTakes += other.correctedTakes;
    notes += other.notes;
    for (std::size_t kind = 0; kind < kinds.size(); ++kind)
        kinds[kind] += other.kinds[kind];
    return *this;
}

} // namespace valveladder
