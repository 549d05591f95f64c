#include "Findings/NextSession.h"

#include "Findings/Words.h"
#include "Valves/Fingering.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

/// Something that comes back in each round.
struct Piece {
    FingeredCell cell;
    std::string why;
    bool isRung = false;
};

FingeredCell repeated(const FingeredCell& cell) {
    FingeredCell longer;
    for (int i = 0; i < nextSession::cellRepeats; ++i) {
        longer.notes.insert(longer.notes.end(), cell.notes.begin(), cell.notes.end());
        longer.combinations.insert(longer.combinations.end(), cell.combinations.begin(),
                                   cell.combinations.end());
    }
    return longer;
}

std::vector<Piece> weakPieces(const Instrument& instrument, const Weaknesses& weaknesses,
                              const SeparatingLimits& limits) {
    std::vector<Piece> pieces;
    const bool claimed = !weaknesses.findings.empty();
    const auto& findings = claimed ? weaknesses.findings : weaknesses.leads;
    constexpr int cellsEach = 2;
    for (const auto& finding : findings)
        for (const auto& cell : cellsFor(finding.suspect, instrument, limits, cellsEach))
            if (static_cast<int>(pieces.size()) < nextSession::mostWeakCells)
                pieces.push_back({repeated(cell),
                                  claimed ? inWords(finding, instrument.thumbValve)
                                          : "not known to be weak; the likeliest place to look at: " +
                                                finding.suspect.name(instrument.thumbValve),
                                  false});
    return pieces;
}

/// The ladder's rungs, each in the fourth-valve and the 1-3 fingerings in turn.
std::vector<Piece> rungPieces(const SessionRequest& request, const Instrument& instrument) {
    std::vector<Piece> pieces;
    const bool hasFourth = instrument.valves == maxValves && !instrument.thumbValve;
    int number = 0;
    for (const auto& rung : rungs(request.ladder)) {
        FingeringPolicy policy;
        policy.policy = !hasFourth ? Policy::usual : number % 2 == 0 ? Policy::fourthValve : Policy::oneThree;
        Piece piece;
        piece.isRung = true;
        piece.why = "rung " + rung.label + (!hasFourth ? "" : number % 2 == 0 ? ", fourth valve" : ", 1-3");
        for (const MidiNote note : rung.notes)
            if (const auto fingering = chooseFingering(instrument, note, policy, {number, 0, 0})) {
                piece.cell.notes.push_back(note);
                piece.cell.combinations.push_back(fingering->combination);
            }
        if (!piece.cell.notes.empty())
            pieces.push_back(std::move(piece));
        ++number;
    }
    return pieces;
}

Drill drillOf(const Piece& piece, const Drill& ladder) {
    Drill drill = cellDrill({piece.cell}, piece.isRung ? "Rung" : "Cell", 1);
    drill.noteTicks = ladder.noteTicks;
    drill.meter = ladder.meter;
    drill.rest = ladder.rest;
    drill.countInBars = ladder.countInBars;
    drill.segments = piece.isRung ? ladder.segments : defaultSegments();
    return drill;
}

double secondsOf(const Drill& drill, const Instrument& instrument, double bpm) {
    const auto score = buildScore(drill, instrument, bpm);
    return score ? static_cast<double>(score.value().length) / ticksPerQuarter * 60.0 / bpm : 0.0;
}

/// Rounds of pieces: weak cells and settling cells in between rungs, never two rounds in the same order.
std::vector<Piece> nextRound(const std::vector<Piece>& cells, const std::vector<Piece>& rungs,
                             std::size_t round) {
    std::vector<Piece> order = cells;
    if (order.size() > 1)
        std::rotate(order.begin(), order.begin() + static_cast<std::ptrdiff_t>(round % order.size()),
                    order.end());
    const std::size_t inside =
        order.empty() ? rungs.size() : std::max<std::size_t>(1, (order.size() + 1) / 3);
    for (std::size_t i = 0; i < inside && !rungs.empty(); ++i) {
        const auto at =
            static_cast<std::ptrdiff_t>(std::min(order.size(), 3 * i + 2 * (cells.empty() ? 0 : 1)));
        order.insert(order.begin() + at, rungs[(round * inside + i) % rungs.size()]);
    }
    return order;
}

/// All items in one drill. A note that items finger differently follows the drill's mixed policy there.
Drill wholeDrill(const std::vector<Piece>& played, const SessionRequest& request,
                 const Instrument& instrument) {
    Drill drill = request.ladder;
    drill.name = request.name;
    drill.repeats = 1;
    CellPattern pattern;
    std::map<MidiNote, Combination> asked;
    std::map<MidiNote, bool> differs;
    for (const auto& piece : played) {
        if (static_cast<int>(pattern.cells.size()) >= DrillLimits::maxRungs)
            break;
        pattern.cells.push_back(piece.cell.notes);
        for (std::size_t i = 0; i < piece.cell.notes.size(); ++i) {
            const auto [known, isNew] = asked.try_emplace(piece.cell.notes[i], piece.cell.combinations[i]);
            if (!isNew && known->second != piece.cell.combinations[i])
                differs[piece.cell.notes[i]] = true;
        }
    }
    for (const auto& [note, different] : differs)
        asked.erase(note);
    drill.pattern = pattern;
    drill.fingering.policy = instrument.valves == maxValves ? Policy::mixed : Policy::usual;
    drill.fingering.mix = MixRule::perRung;
    drill.fingering.byHand = asked;
    return drill;
}

} // namespace

std::vector<FingeredCell> cellsFor(const Suspect& suspect, const Instrument& instrument,
                                   const SeparatingLimits& limits, int most) {
    struct Ranked {
        FingeredCell cell;
        int cost = 0;
    };
    std::vector<Ranked> fitting;
    for (const auto& cell : cellPool(instrument, limits)) {
        const Change up{cell.combinations[0], cell.combinations[1]};
        const Change down{cell.combinations[1], cell.combinations[0]};
        if (!suspect.concerns(up) && !suspect.concerns(down))
            continue;
        int cost = cell.notes[1] - cell.notes[0] + up.fingersMoved();
        for (std::size_t i = 0; i < cell.notes.size(); ++i) {
            constexpr int alternateCost = 4;
            const auto choices = fingerings(instrument, cell.notes[i]);
            cost += choices.front().combination == cell.combinations[i] ? 0 : alternateCost;
        }
        fitting.push_back({cell, cost});
    }
    std::stable_sort(fitting.begin(), fitting.end(),
                     [](const auto& a, const auto& b) { return a.cost < b.cost; });
    std::vector<FingeredCell> cells;
    for (const auto& ranked : fitting)
        if (static_cast<int>(cells.size()) < most)
            cells.push_back(ranked.cell);
    return cells;
}

PracticeSession planSession(const SessionRequest& request, const Instrument& instrument,
                            const Weaknesses& weaknesses, const std::vector<FingeredCell>& settle) {
    PracticeSession session;
    auto cells = weakPieces(instrument, weaknesses, usualLimits(instrument, request.bpm));
    for (const auto& cell : settle)
        cells.push_back({repeated(cell), "tells fingers apart that cannot be told apart yet", false});
    const auto ladder = rungPieces(request, instrument);
    std::vector<Piece> played;
    double seconds = 0.0, sinceRest = 0.0;
    const double limit = request.minutes * 60.0;
    bool full = cells.empty() && ladder.empty();
    for (std::size_t round = 0; !full; ++round) {
        for (const auto& piece : nextRound(cells, ladder, round)) {
            SessionItem item;
            item.drill = drillOf(piece, request.ladder);
            item.bpm = request.bpm;
            item.why = piece.why;
            item.seconds = secondsOf(item.drill, instrument, request.bpm);
            full = full || item.seconds <= 0.0 || seconds + item.seconds > limit;
            if (full)
                break;
            seconds += item.seconds;
            sinceRest += item.seconds;
            const bool longRest = sinceRest >= request.restAfterMinutes * 60.0;
            item.restSecondsAfter = longRest ? request.restMinutes * 60.0 : nextSession::shortRestSeconds;
            seconds += item.restSecondsAfter;
            sinceRest = longRest ? 0.0 : sinceRest;
            session.items.push_back(std::move(item));
            played.push_back(piece);
        }
    }
    session.minutes = seconds / 60.0;
    session.bpm = request.bpm;
    session.drill = wholeDrill(played, request, instrument);
    if (session.items.empty())
        session.remarks.push_back(fmt::format("{:.0f} minutes are too few for a single rung at {:.4g} bpm",
                                              request.minutes, request.bpm));
    if (!cells.empty())
        session.remarks.push_back(mixingRemark);
    return session;
}

} // namespace valveladder
