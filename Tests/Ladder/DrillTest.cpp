#include "Ladder/Drill.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>

namespace valveladder {
namespace {

const Instrument& trumpet() {
    return *findInstrument("trumpet-b-flat");
}

TEST(Drill, DefaultRunsFromFSharpToCAndBackThenASemitoneHigherUpToD) {
    const auto all = rungs(defaultDrill(trumpet()));
    ASSERT_EQ(all.size(), 3U);
    EXPECT_EQ(all[0].label, "F#3-C4");
    EXPECT_EQ(all[1].label, "G3-C#4");
    EXPECT_EQ(all[2].label, "G#3-D4");
    EXPECT_EQ(all[0].notes, (std::vector<MidiNote>{54, 55, 56, 57, 58, 59, 60, 59, 58, 57, 56, 55, 54}));
}

TEST(Drill, DefaultGoesBothWaysOnEveryInstrument) {
    for (const Instrument& instrument : catalogue())
        for (const Rung& rung : rungs(defaultDrill(instrument)))
            EXPECT_TRUE(std::equal(rung.notes.begin(), rung.notes.end(), rung.notes.rbegin()))
                << instrument.id;
}

TEST(Drill, ExtendingKeepsTheFoot) {
    Drill drill;
    std::get<LadderPattern>(drill.pattern).growth = Growth::extend;
    const auto all = rungs(drill);
    EXPECT_EQ(all[2].label, "F#3-D4");
    EXPECT_EQ(all[2].notes.size(), 9U);
}

TEST(Drill, ShapesTurnAtTheTopOrTheFoot) {
    Drill drill;
    auto& ladder = std::get<LadderPattern>(drill.pattern);
    ladder = {60, 62, 62, Growth::shift, Shape::upDown};
    EXPECT_EQ(rungs(drill)[0].notes, (std::vector<MidiNote>{60, 61, 62, 61, 60}));
    ladder.shape = Shape::downUp;
    EXPECT_EQ(rungs(drill)[0].notes, (std::vector<MidiNote>{62, 61, 60, 61, 62}));
}

TEST(Drill, DefaultOfEveryInstrumentIsAccepted) {
    for (const Instrument& instrument : catalogue())
        EXPECT_TRUE(checked(defaultDrill(instrument), instrument).ok()) << instrument.id;
}

/// Changes the default drill and expects it to be refused with words that name the place.
template <typename Change>
void expectRefused(Change change, const std::string& where) {
    Drill drill;
    change(drill, std::get<LadderPattern>(drill.pattern));
    const auto result = checked(drill, trumpet());
    ASSERT_FALSE(result.ok()) << where;
    EXPECT_NE(result.problem().where.find(where), std::string::npos) << result.problem().text();
    EXPECT_FALSE(result.problem().remedy.empty());
}

TEST(Drill, AbsurdOnesAreRefusedWithThePlace) {
    constexpr int big = std::numeric_limits<int>::max();
    expectRefused([](Drill&, LadderPattern& l) { l.foot = 20; }, "pattern");
    expectRefused([](Drill&, LadderPattern& l) { l.foot = -big; }, "pattern");
    expectRefused([](Drill&, LadderPattern& l) { l.lastTop = big; }, "pattern");
    expectRefused([](Drill&, LadderPattern& l) { l.lastTop = 127; }, "pattern");
    expectRefused([](Drill&, LadderPattern& l) { l.firstTop = l.foot; }, "firstTop");
    expectRefused([](Drill&, LadderPattern& l) { l.lastTop = l.firstTop - 1; }, "lastTop");
    expectRefused([](Drill& d, LadderPattern&) { d.noteTicks = 0; }, "noteTicks");
    expectRefused([](Drill& d, LadderPattern&) { d.repeats = 10000; }, "repeats");
    expectRefused([](Drill& d, LadderPattern&) { d.segments.clear(); }, "segments");
    expectRefused([](Drill& d, LadderPattern&) { d.segments[1].rhythm.shares = {0, 1}; }, "segments[1]");
    expectRefused([](Drill& d, LadderPattern&) { d.segments[2].accents.group = 0; }, "segments[2]");
    expectRefused([](Drill& d, LadderPattern&) { d.meter.unit = 3; }, "meter");
    expectRefused([](Drill& d, LadderPattern&) { d.countInBars = -1; }, "countInBars");
    expectRefused([](Drill& d, LadderPattern&) { d.rest.amount = std::numeric_limits<double>::quiet_NaN(); },
                  "rest");
    expectRefused([](Drill& d, LadderPattern&) { d.fingering.byHand[57] = Combination(0); }, "byHand");
    expectRefused([](Drill& d, LadderPattern&) { d.pattern = CellPattern{}; }, "cells");
    expectRefused([](Drill& d, LadderPattern&) { d.pattern = CellPattern{{{60}}}; }, "cells[0]");
    expectRefused(
        [](Drill& d, LadderPattern&) {
            d.pattern = CellPattern{std::vector(10000, DrillCell{60, 61})};
        },
        "cells");
    const auto cell = [](DrillCell wrong) {
        return [wrong](Drill& d, LadderPattern&) { d.pattern = CellPattern{{{60, 62}, wrong}}; };
    };
    const Combination open = Combination(0);
    expectRefused(cell(DrillCell({60, 62}, {open})), "cells[1].valves");
    expectRefused(cell(DrillCell({60, 62}, {open, open})), "cells[1].valves"); // D4 is not open
    DrillCell restless{60, 62};
    restless.restAfter = Rest{4000.0, Rest::Unit::seconds, true};
    expectRefused(cell(restless), "cells[1].rest");
}

TEST(Drill, CellsAreRungsOfTheirOwn) {
    Drill drill;
    drill.pattern = CellPattern{{{54, 55}, {57, 58, 57}}};
    const auto all = rungs(drill);
    ASSERT_EQ(all.size(), 2U);
    EXPECT_EQ(all[0].label, "F#3 G3");
    EXPECT_TRUE(checked(drill, trumpet()).ok());
}

} // namespace
} // namespace valveladder
