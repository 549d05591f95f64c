#include "View/ResultModel.h"

#include "View/Words.h"

#include <cmath>
#include <map>
#include <utility>

namespace valveladder {

namespace {

bool inCell(const NoteModel& note, const CellPlace& cell) {
    return note.rung == cell.rung && note.segment == cell.segment;
}

/// Mean distance of a cell's notes from their places, ms.
double outOfTime(const TakeModel& take, const CellPlace& cell) {
    double sum = 0.0;
    int count = 0;
    for (const NoteModel& note : take.notes)
        if (inCell(note, cell) && note.deviationMs) {
            sum += std::abs(*note.deviationMs);
            ++count;
        }
    return count == 0 ? 0.0 : sum / count;
}

/// Wrong, missed and extra notes, and breaths.
int faultsInCells(const TakeModel& take) {
    int faults = 0;
    for (const RungModel& rung : take.rungs)
        for (const CellModel& cell : rung.cells)
            faults += cell.played ? cell.faults : 0;
    return faults;
}

bool besidesNotes(const TakeModel& take) {
    return take.extras > 0 || faultsInCells(take) > 0;
}

/// Notes that were wrong or missed.
struct FaultyNotes {
    int all = 0;
    CellPlace fullest; ///< the cell with most of them, of equals the first
    int inFullest = 0;
};

FaultyNotes faultyNotes(const TakeModel& take) {
    FaultyNotes faulty;
    std::map<std::pair<int, int>, int> byCell;
    for (const NoteModel& note : take.notes)
        if (note.outcome != Outcome::right) {
            ++faulty.all;
            ++byCell[{note.rung, note.segment}];
        }
    for (const auto& [cell, count] : byCell)
        if (count > faulty.inFullest) {
            faulty.fullest = {cell.first, cell.second};
            faulty.inFullest = count;
        }
    return faulty;
}

std::string inWords(const FaultyNotes& faulty, const TakeModel& take) {
    if (2 * faulty.inFullest <= faulty.all)
        return words::scatteredFaults(faulty.all);
    return words::mostFaults(faulty.all, take.segmentNames[static_cast<std::size_t>(faulty.fullest.segment)],
                             take.rungs[static_cast<std::size_t>(faulty.fullest.rung)].label);
}

std::string ofTheTake(const TakeModel& take) {
    if (take.notes.empty())
        return words::nothingPlayed;
    if (const FaultyNotes faulty = faultyNotes(take); faulty.all > 0)
        return inWords(faulty, take);
    if (besidesNotes(take)) // right, but with notes or breaths that nobody asked for
        return take.counts + ".";
    return take.whole && !take.passed ? words::tooUneven
                                      : words::allRight(static_cast<int>(take.notes.size()));
}

/// Not passed for what was played in it, and not only because it was cut short.
bool wentWrong(const TakeModel& take) {
    return !take.passed && (take.whole || faultyNotes(take).all > 0 || besidesNotes(take));
}

} // namespace

NoteSign signOf(const NoteModel& note) {
    return noteSign(note.outcome, note.split, note.deviationMs, !note.saidRight.empty());
}

std::vector<NoteAside> asidesOf(const NoteModel& note) {
    return noteAsides(note.reports, note.lateFingers);
}

std::optional<CorrectionOffer> offerFor(const NoteModel& note) {
    CorrectionOffer offer;
    offer.right = !note.reports.empty();
    for (const ReportKind kind : offer.right ? note.reports : note.saidRight)
        offer.reports.push_back({note.index, kind});
    if (offer.reports.empty())
        return std::nullopt;
    return offer;
}

CellPlace worstCell(const TakeModel& take) {
    std::optional<CellPlace> worst;
    int mostFaults = 0;
    double furthest = 0.0;
    for (int rung = 0; rung < static_cast<int>(take.rungs.size()); ++rung) {
        const auto& cells = take.rungs[static_cast<std::size_t>(rung)].cells;
        for (int segment = 0; segment < static_cast<int>(cells.size()); ++segment) {
            const CellModel& cell = cells[static_cast<std::size_t>(segment)];
            if (!cell.played)
                continue;
            const CellPlace place{rung, segment};
            const double out = outOfTime(take, place);
            if (!worst || cell.faults > mostFaults || (cell.faults == mostFaults && out > furthest)) {
                worst = place;
                mostFaults = cell.faults;
                furthest = out;
            }
        }
    }
    return worst.value_or(CellPlace{});
}

std::optional<int> slowestChange(const TakeModel& take, const CellPlace& cell) {
    std::optional<int> slowest;
    double most = 0.0;
    for (const NoteModel& note : take.notes)
        if (inCell(note, cell) && note.changeoverMs && *note.changeoverMs > most) {
            most = *note.changeoverMs;
            slowest = note.index;
        }
    return slowest;
}

ResultWords resultWords(const TakeModel& take, const std::vector<std::string>& claims) {
    ResultWords result{ofTheTake(take), take.heading + ".", take.detail + "."};
    if (claims.empty())
        return result;
    const std::string& claim = claims.front();
    const std::string found = words::firstSentence(claim);
    result.details = words::ofThisTake(result.details);
    if (found.size() < claim.size())
        result.details = claim.substr(found.size() + 1) + " " + result.details;
    if (wentWrong(take)) {
        result.verdict += " " + words::overAllTakes(found);
    } else {
        result.sentence = found;
        result.verdict = words::foundOverAllTakes(result.verdict);
    }
    return result;
}

} // namespace valveladder
