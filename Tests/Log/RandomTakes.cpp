#include "Log/RandomTakes.h"

#include <algorithm>
#include <array>

namespace valveladder {

std::string RandomTakes::text() {
    static const std::vector<std::string> parts{"a", "Z", " ",  ",",  "\"",   "\n", "\r\n",
                                                "'", ";", "\\", "\t", "é",    "ß",  "日",
                                                "𝄞", "%", "=",  "-",  "\x7f", "{",  "]"};
    std::string text;
    for (int i = whole(0, 12); i > 0; --i)
        text += choice(parts);
    return text;
}

std::string RandomTakes::uuid() {
    constexpr const char* digits = "0123456789abcdef";
    std::string id = "xxxxxxxx-xxxx-4xxx-8xxx-xxxxxxxxxxxx";
    for (char& c : id)
        if (c == 'x')
            c = digits[whole(0, 15)];
    return id;
}

std::optional<double> RandomTakes::maybe(double low, double high) {
    if (whole(0, 3) == 0)
        return std::nullopt;
    return whole(0, 3) == 0 ? static_cast<double>(whole(-3, 3)) : real(low, high);
}

std::optional<double> RandomTakes::maybeShare() {
    const auto value = maybe(0.0, 1.0);
    return value ? std::optional(std::clamp(*value, 0.0, 1.0)) : std::nullopt;
}

std::optional<Estimate> RandomTakes::maybeEstimate() {
    if (whole(0, 3) == 0)
        return std::nullopt;
    const double value = real(-50.0, 50.0);
    return Estimate{value, value - real(0.0, 9.0), value + real(0.0, 9.0), whole(1, 500)};
}

TakeHeader RandomTakes::header() {
    TakeHeader header;
    header.id = uuid();
    header.player = text();
    header.instrumentId = choice<std::string>({"trumpet-b-flat", "euphonium-4", "horn-double"});
    header.instrumentJson = text();
    header.drillName = text();
    header.drillJson = text();
    header.startedUtc = 1700000000000 + whole(0, 1000000000);
    header.timeZone = choice<std::string>({"Europe/Berlin", "America/New_York", "Etc/UTC"});
    header.way = choice<TakeWay>(
        {TakeWay::recordingPass, TakeWay::loopPass, TakeWay::playing, TakeWay::marker, TakeWay::hand});
    header.plannedBpm = real(40.0, 140.0);
    header.machine = uuid();
    header.invented = coin();
    return header;
}

NoteResult RandomTakes::note(int index) {
    NoteResult note;
    note.index = index;
    note.outcome = choice<Outcome>({Outcome::right, Outcome::right, Outcome::wrong, Outcome::missed});
    note.played = note.outcome == Outcome::missed ? -1 : whole(40, 90);
    note.onsetSeconds = maybe(0.0, 300.0);
    note.offsetSeconds = maybe(0.0, 300.0);
    note.deviationMs = maybe(-60.0, 60.0);
    note.rawDeviationMs = maybe(-90.0, 90.0);
    note.ioiResidualMs = maybe(-60.0, 60.0);
    note.cents = maybe(-50.0, 50.0);
    note.centsFromPrediction = maybe(-50.0, 50.0);
    note.loudnessDb = maybe(-20.0, 20.0);
    note.split = coin();
    note.breathBefore = coin();
    note.valvesWrong = coin();
    note.crackedMs = maybe(10.0, 90.0);
    note.crackedThrough = note.crackedMs ? whole(40, 90) : -1;
    note.likelihood = maybeShare();
    return note;
}

SegmentResult RandomTakes::segment(int span) {
    SegmentResult segment;
    segment.span = span;
    segment.rung = span / 4;
    segment.segment = span % 4;
    segment.expected = whole(0, 50);
    segment.right = whole(0, 50);
    segment.wrong = whole(0, 9);
    segment.missed = whole(0, 9);
    segment.extra = whole(0, 9);
    segment.breaths = whole(0, 2);
    segment.earlierTries = whole(0, 3);
    segment.played = coin();
    segment.clean = coin();
    segment.asynchronyMs = maybeEstimate();
    segment.onsetSpreadMs = maybeEstimate();
    segment.ioiSpreadMs = maybeEstimate();
    segment.ioiSpreadPercent = maybeEstimate();
    segment.longShortRatio = maybeEstimate();
    segment.targetRatio = maybe(1.0, 4.0);
    return segment;
}

Performance RandomTakes::performance(int notes) {
    Performance performance;
    performance.source = choice<Source>({Source::midi, Source::sound, Source::both});
    for (int i = 0; i < notes; ++i) {
        performance.notes.push_back(note(i));
        if (whole(0, 20) == 0)
            performance.extras.push_back(
                {real(0.0, 300.0), real(0.0, 300.0), whole(40, 90), i, maybeShare()});
        if (i > 0)
            performance.changes.push_back(
                {i,
                 Change{combination(), combination()},
                 coin(),
                 maybe(5.0, 200.0),
                 maybe(-20.0, 90.0),
                 coin(),
                 {maybe(0.0, 90.0), maybe(0.0, 90.0), maybe(0.0, 90.0), maybe(0.0, 90.0)},
                 combination(),
                 maybe(0.0, 90.0),
                 maybeShare()});
    }
    for (int span = 0; span * 7 < notes; ++span)
        performance.segments.push_back(segment(span));
    performance.asynchronyMs = maybeEstimate();
    performance.asynchronySpreadMs = maybeEstimate();
    performance.tuningHz = maybe(430.0, 450.0);
    for (int i = whole(0, 2); i > 0; --i)
        performance.remarks.emplace_back(text());
    return performance;
}

TakeRecord RandomTakes::take(int notes) {
    TakeRecord record;
    record.header = header();
    record.endedUtc = record.header.startedUtc + whole(0, 600000);
    record.state = coin() ? TakeState::whole : TakeState::cutShort;
    record.end = choice<TakeEnd>({TakeEnd::whole, TakeEnd::late, TakeEnd::stopped, TakeEnd::jumped,
                                  TakeEnd::marked, TakeEnd::bypassed});
    record.playedBpm = real(40.0, 140.0);
    record.playedBpmLow = real(40.0, 140.0);
    record.playedBpmHigh = real(40.0, 140.0);
    record.startPpq = real(-8.0, 1000.0);
    record.endPpq = real(0.0, 1000.0);
    record.clock = choice<std::string>({"host", "own", "link"});
    record.roundTripMs = maybe(0.0, 60.0);
    record.roundTripFrom =
        choice<RoundTripFrom>({RoundTripFrom::none, RoundTripFrom::byHand, RoundTripFrom::measured});
    record.soundFile = text();
    record.passed = coin();
    record.playerNote = text();
    for (int i = whole(0, 3); i > 0; --i)
        record.messages.push_back(text());
    record.performance = performance(notes);
    return record;
}

Segment RandomTakes::drillSegment() {
    Segment segment;
    segment.name = text();
    segment.rhythm.shares.clear();
    for (int i = whole(0, 8); i > 0; --i)
        segment.rhythm.shares.push_back(whole(1, 16));
    segment.touch = choice<Touch>({Touch::firm, Touch::relaxed});
    segment.accents.rule = choice<AccentRule>({AccentRule::none, AccentRule::everyNote, AccentRule::longNotes,
                                               AccentRule::firstOfGroup, AccentRule::drift});
    segment.accents.group = whole(2, 16);
    segment.slurred = coin();
    return segment;
}

Drill RandomTakes::drill() {
    Drill drill;
    drill.name = text();
    if (coin()) {
        CellPattern cells;
        for (int i = whole(0, 5); i > 0; --i) {
            DrillCell& cell = cells.cells.emplace_back();
            for (int j = whole(0, 5); j > 0; --j)
                cell.notes.push_back(whole(0, 127));
            if (coin())
                for (std::size_t j = 0; j < cell.notes.size(); ++j)
                    cell.valves.push_back(coin() ? std::optional(combination()) : std::nullopt);
            if (coin())
                cell.restAfter = Rest{real(0.0, 300.0), Rest::Unit::seconds, coin()};
        }
        drill.pattern = cells;
    } else {
        drill.pattern = LadderPattern{whole(0, 127), whole(0, 127), whole(0, 127),
                                      choice<Growth>({Growth::shift, Growth::extend}),
                                      choice<Shape>({Shape::up, Shape::upDown, Shape::downUp})};
    }
    drill.segments.clear();
    for (int i = whole(0, 6); i > 0; --i)
        drill.segments.push_back(drillSegment());
    drill.noteTicks = whole(1, 30000);
    drill.repeats = whole(1, 32);
    drill.meter = {whole(1, 12), choice<int>({1, 2, 4, 8, 16})};
    drill.countInBars = whole(0, 8);
    drill.rest = {real(0.0, 9.0), choice<Rest::Unit>({Rest::Unit::beats, Rest::Unit::seconds}), coin()};
    drill.breathSeconds = real(1.0, 30.0);
    drill.fingering.policy = choice<Policy>(
        {Policy::usual, Policy::fourthValve, Policy::oneThree, Policy::mixed, Policy::bothSides});
    drill.fingering.mix = choice<MixRule>({MixRule::perRung, MixRule::perSegment, MixRule::perNote});
    for (int i = whole(0, 4); i > 0; --i)
        drill.fingering.byHand[whole(0, 127)] = combination();
    if (coin())
        drill.spelling =
            choice<Spelling>({Spelling::sharps, Spelling::flats, Spelling::german, Spelling::fixedDo});
    return drill;
}

Instrument RandomTakes::instrument() {
    Instrument instrument;
    instrument.id = text();
    instrument.name = text();
    instrument.transposition = whole(-24, 24);
    instrument.valves = whole(3, 4);
    instrument.thumbValve = coin();
    instrument.compensation =
        choice<Compensation>({Compensation::none, Compensation::threeValve, Compensation::fourValve});
    instrument.clef = choice<Clef>({Clef::treble, Clef::bass});
    for (int i = whole(0, 2); i > 0; --i)
        instrument.sides.push_back(
            {text(), whole(0, 127), {real(0.01, 2.0), real(0.01, 2.0), real(0.01, 2.0), real(0.01, 2.0)}});
    instrument.lowest = whole(0, 127);
    instrument.highest = whole(0, 127);
    instrument.ladderFoot = whole(0, 127);
    return instrument;
}

TempoRules RandomTakes::rules() {
    TempoRules rules;
    rules.startBpm = real(10.0, 400.0);
    rules.stepPerTake = real(0.0, 3.0);
    rules.stepPerDay = real(0.0, 3.0);
    rules.passesPerStep = whole(1, 10);
    rules.failuresBeforeBack = whole(1, 10);
    rules.stepBack = real(0.0, 10.0);
    rules.ceilingBpm = real(10.0, 400.0);
    rules.toleranceBpm = real(0.0, 9.0);
    rules.timeZone = text();
    rules.dayStartsAtHour = whole(0, 12);
    rules.pass = {whole(0, 9), whole(0, 9), whole(0, 9), real(0.0, 50.0)};
    return rules;
}

} // namespace valveladder
