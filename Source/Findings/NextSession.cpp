#include "Findings/NextSession.h"

#include "Base/Units.h"
#include "Score/Score.h"
#include "Valves/Fingering.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

/// What a round is made of. A rung is another one each round.
struct Thing {
    FingeredCell cell; ///< as often as it is played
    std::variant<FingeredCell, RungRun> what;
    SessionPurpose why;
    bool isRung = false;
};

/// What there is to choose a session from.
struct Store {
    Thing warmUp;
    std::vector<Thing> cells; ///< most urgent first, none twice
    std::vector<Thing> rungs; ///< one after another, a round each
};

bool hasFourthFinger(const Instrument& instrument) {
    return instrument.valves == maxValves && !instrument.thumbValve;
}

FingeredCell repeated(const FingeredCell& cell) {
    FingeredCell longer;
    for (int i = 0; i < nextSession::cellRepeats; ++i) {
        longer.notes.insert(longer.notes.end(), cell.notes.begin(), cell.notes.end());
        longer.combinations.insert(longer.combinations.end(), cell.combinations.begin(),
                                   cell.combinations.end());
    }
    return longer;
}

void addCell(std::vector<Thing>& things, const FingeredCell& cell, const SessionPurpose& why) {
    Thing thing{repeated(cell), cell, why, false};
    const bool known = std::any_of(things.begin(), things.end(),
                                   [&](const Thing& other) { return other.cell == thing.cell; });
    if (!known)
        things.push_back(std::move(thing));
}

/// One cell for each weakness, a second one where it is alone, and one that tells fingers apart.
std::vector<Thing> cellsToPlay(const Instrument& instrument, const Weaknesses& weaknesses,
                               const std::vector<FingeredCell>& settle, double bpm) {
    constexpr std::size_t weakCells = 2;
    constexpr int cellsEach = 2;
    const auto limits = usualLimits(instrument, bpm);
    const bool claimed = !weaknesses.findings.empty();
    std::vector<Thing> things;
    std::vector<Thing> seconds;
    for (const auto& finding : claimed ? weaknesses.findings : weaknesses.leads) {
        const SessionPurpose why{claimed ? SessionPurpose::Kind::weakness : SessionPurpose::Kind::likeliest,
                                 finding.suspect};
        const auto cells = cellsFor(finding.suspect, instrument, limits, cellsEach);
        for (std::size_t i = 0; i < cells.size(); ++i)
            addCell(i == 0 ? things : seconds, cells[i], why);
    }
    if (things.size() > weakCells)
        things.resize(weakCells);
    for (const Thing& second : seconds)
        if (things.size() < weakCells)
            things.push_back(second);
    for (const auto& cell : settle)
        addCell(things, cell, {SessionPurpose::Kind::tellApart});
    return things;
}

bool returns(const std::vector<MidiNote>& notes) {
    return notes.size() > 2 && notes.front() == notes.back();
}

RungRun::Way wayOf(const Rung& rung) {
    if (!returns(rung.notes))
        return RungRun::Way::oneWay;
    return rung.notes[1] > rung.notes[0] ? RungRun::Way::upAndDown : RungRun::Way::downAndUp;
}

/// A rung with its fingerings. Valves of its own lead; else the way there is with the fourth valve and the
/// way back with 1-3, or the whole rung with one of them, by whether `number` is even.
Thing rungThing(const Rung& rung, int number, const Drill& ladder, const Instrument& instrument) {
    RungRun run{rung.label, wayOf(rung)};
    Thing thing;
    thing.isRung = true;
    const bool hasFourth = hasFourthFinger(instrument) && rung.valves.empty();
    const std::size_t turn = returns(rung.notes) ? rung.notes.size() / 2 : rung.notes.size();
    FingeringPolicy policy = ladder.fingering;
    for (std::size_t i = 0; i < rung.notes.size(); ++i) {
        const bool fourth = returns(rung.notes) ? i <= turn : number % 2 == 0;
        policy.policy = !hasFourth ? Policy::usual : fourth ? Policy::fourthValve : Policy::oneThree;
        const auto fingering = rung.valvesOf(i)
                                   ? fingeringOf(instrument, rung.notes[i], *rung.valvesOf(i))
                                   : chooseFingering(instrument, rung.notes[i], policy, {number, 0, 0});
        if (fingering) {
            thing.cell.notes.push_back(rung.notes[i]);
            thing.cell.combinations.push_back(fingering->combination);
        }
    }
    if (hasFourth)
        run.fingering = returns(rung.notes) ? RungRun::Fingering::fourthThereOneThreeBack
                        : number % 2 == 0   ? RungRun::Fingering::fourth
                                            : RungRun::Fingering::oneThree;
    thing.what = std::move(run);
    return thing;
}

Store storeOf(const SessionRequest& request, const Instrument& instrument, const Weaknesses& weaknesses,
              const std::vector<FingeredCell>& settle) {
    Store store;
    store.cells = cellsToPlay(instrument, weaknesses, settle, request.bpm);
    const auto ladder = rungs(request.ladder);
    const bool bothWays = returns(ladder.front().notes);
    // Where a rung holds one kind of fingering only, each comes in both, in turn.
    const int turns = hasFourthFinger(instrument) && !bothWays ? 2 : 1;
    for (int turn = 0; turn < turns; ++turn)
        for (std::size_t i = 0; i < ladder.size(); ++i)
            store.rungs.push_back(
                rungThing(ladder[i], turn + static_cast<int>(i), request.ladder, instrument));
    store.warmUp = store.rungs.front();
    store.warmUp.what = RungRun{ladder.front().label, wayOf(ladder.front())};
    store.warmUp.why = {SessionPurpose::Kind::warmUp};
    for (std::size_t i = 0; i < store.warmUp.cell.notes.size(); ++i)
        if (!ladder.front().valvesOf(i))
            store.warmUp.cell.combinations[i] =
                fingerings(instrument, store.warmUp.cell.notes[i]).front().combination;
    return store;
}

/// Items laid out in time.
struct Laid {
    PracticeSession session;
    double seconds = 0.0;
};

class SessionBuilder {
public:
    SessionBuilder(const SessionRequest& asked, const Instrument& played, const Store& from)
        : request(asked), instrument(played), store(from) {}

    /// The longest session of `things` a round that fits; without rounds when none does.
    [[nodiscard]] Laid longest(int things, bool warmUp) const {
        const double limit = request.minutes * secondsPerMinute;
        const int mostRounds = (DrillLimits::maxCells - (warmUp ? 1 : 0)) / things;
        const Laid one = lay(things, 1, warmUp);
        const double each = lay(things, 2, warmUp).seconds - one.seconds;
        int rounds = one.seconds > limit || each <= 0.0
                         ? 1
                         : std::min(mostRounds, 1 + static_cast<int>((limit - one.seconds) / each));
        for (; rounds >= 1; --rounds) { // long rests may leave room for fewer
            Laid laid = lay(things, rounds, warmUp);
            if (laid.seconds > 0.0 && laid.seconds <= limit)
                return laid;
        }
        return {};
    }

    [[nodiscard]] int mostThings() const {
        return store.cells.empty()
                   ? std::min(nextSession::mostThings, static_cast<int>(store.rungs.size()))
                   : std::min(nextSession::mostThings, static_cast<int>(store.cells.size()) + 1);
    }

private:
    [[nodiscard]] const Thing& thingAt(int thing, int round, int things) const {
        const auto cells = std::min(store.cells.size(), static_cast<std::size_t>(std::max(1, things - 1)));
        const auto at = static_cast<std::size_t>(thing - 1);
        if (at < cells)
            return store.cells[at];
        const auto before = static_cast<std::size_t>(round - 1) * (static_cast<std::size_t>(things) - cells);
        return store.rungs[(before + at - cells) % store.rungs.size()];
    }

    [[nodiscard]] SessionItem itemOf(const Thing& thing, int number, int round) const {
        SessionItem item;
        item.thing = number;
        item.round = round;
        item.isRung = thing.isRung;
        item.bpm = request.bpm;
        item.what = thing.what;
        item.why = thing.why;
        item.drill = drillOf({cellOf(thing.cell)}, thing.isRung ? "Rung" : "Cell");
        return item;
    }

    [[nodiscard]] Drill drillOf(std::vector<DrillCell> cells, const std::string& name) const {
        Drill drill = request.ladder;
        drill.name = name;
        drill.repeats = 1;
        drill.fingering = {};
        drill.pattern = CellPattern{std::move(cells)};
        return drill;
    }

    [[nodiscard]] Laid lay(int things, int rounds, bool warmUp) const {
        Laid laid;
        PracticeSession& session = laid.session;
        session.things = things;
        session.rounds = rounds;
        session.bpm = request.bpm;
        if (warmUp)
            session.items.push_back(itemOf(store.warmUp, 0, 0));
        for (int round = 1; round <= rounds; ++round)
            for (int thing = 1; thing <= things; ++thing)
                session.items.push_back(itemOf(thingAt(thing, round, things), thing, round));
        // How long an item lasts does not hang on the rests after it, but where long rests come does.
        for (const bool withLongRests : {false, true}) {
            setRests(session, withLongRests);
            const auto score = buildScore(session.drill, instrument, request.bpm);
            if (!score)
                return {};
            setTimes(session, score.value());
            laid.seconds = secondsOf(score.value().length);
        }
        session.minutes = laid.seconds / secondsPerMinute;
        return laid;
    }

    /// A short rest after each item, a long one where enough was played since the last.
    void setRests(PracticeSession& session, bool withLongRests) const {
        std::vector<DrillCell> cells;
        double sinceRest = 0.0;
        for (const SessionItem& item : session.items) {
            DrillCell cell = std::get<CellPattern>(item.drill.pattern).cells.front();
            sinceRest += item.seconds;
            const bool longRest = withLongRests && sinceRest >= request.restAfterMinutes * secondsPerMinute;
            cell.restAfter =
                Rest{longRest ? request.restMinutes * secondsPerMinute : nextSession::shortRestSeconds,
                     Rest::Unit::seconds, true};
            sinceRest = longRest ? 0.0 : sinceRest;
            cells.push_back(std::move(cell));
        }
        cells.back().restAfter.reset();
        session.drill = drillOf(std::move(cells), request.name);
    }

    [[nodiscard]] double secondsOf(Tick ticks) const { return valveladder::secondsOf(ticks, request.bpm); }

    void setTimes(PracticeSession& session, const Score& score) const {
        std::vector<std::pair<Tick, Tick>> edges(session.items.size(), {-1, 0});
        for (const ScoreSpan& span : score.spans) {
            auto& [start, end] = edges[static_cast<std::size_t>(span.rung)];
            start = start < 0 ? span.start : start;
            end = span.end;
        }
        for (std::size_t i = 0; i < edges.size(); ++i) {
            session.items[i].seconds = secondsOf(edges[i].second - edges[i].first);
            if (i + 1 < edges.size())
                session.items[i].restSecondsAfter = secondsOf(edges[i + 1].first - edges[i].second);
        }
    }

    const SessionRequest& request;
    const Instrument& instrument;
    const Store& store;
};

/// As many things as leave two rounds, or one; the warm-up goes before the last thing does.
PracticeSession fitted(const SessionBuilder& builder) {
    for (const int leastRounds : {2, 1})
        for (int things = builder.mostThings(); things >= 1; --things)
            if (Laid laid = builder.longest(things, true); laid.session.rounds >= leastRounds)
                return std::move(laid.session);
    return builder.longest(1, false).session;
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
        constexpr int leapCost = 100; // dearer than all else together
        constexpr int alternateCost = 4;
        int cost = cell.notes[1] - cell.notes[0] + up.fingersMoved();
        cost += isStepwise(cell, instrument) ? 0 : leapCost;
        for (std::size_t i = 0; i < cell.notes.size(); ++i)
            cost += fingerings(instrument, cell.notes[i]).front().combination == cell.combinations[i]
                        ? 0
                        : alternateCost;
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
    const Store store = storeOf(request, instrument, weaknesses, settle);
    PracticeSession session = fitted(SessionBuilder(request, instrument, store));
    session.instrument = instrument;
    session.bpm = request.bpm;
    session.minutesAsked = request.minutes;
    session.mixesCells = !store.cells.empty();
    return session;
}

} // namespace valveladder
