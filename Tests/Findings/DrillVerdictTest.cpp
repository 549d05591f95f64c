#include "Findings/DrillVerdict.h"
#include "Words/SuspectWords.h"
#include "Words/TellingApartWords.h"

#include <gtest/gtest.h>

#include <set>

namespace valveladder {
namespace {

Drill upOnly(const Instrument& instrument) {
    Drill drill = defaultDrill(instrument);
    std::get<LadderPattern>(drill.pattern).shape = Shape::up;
    return drill;
}

TEST(DrillVerdict, DailyDrillOfEveryInstrumentAsksEveryFingerToPressAndRelease) {
    for (const Instrument& instrument : catalogue()) {
        const auto take = perfectTake(defaultDrill(instrument), instrument);
        ASSERT_TRUE(take.ok()) << instrument.id;
        for (const Suspect& effect : fingerEffects(instrument.valves)) {
            int with = 0;
            for (const ChangeEvidence& change : take.value().changes)
                with += effect.involves(change) ? 1 : 0;
            EXPECT_GE(with, 6) << instrument.id << " " << inWords(effect, instrument.thumbValve);
        }
    }
}

TEST(DrillVerdict, LadderUpOnlyIsNotEnoughAndSaysWhatIs) {
    for (const Instrument& instrument : catalogue()) {
        const auto verdict = verdictOn(upOnly(instrument), instrument);
        ASSERT_TRUE(verdict.ok()) << instrument.id;
        EXPECT_FALSE(verdict.value().told.complete()) << instrument.id;
        EXPECT_FALSE(inWords(verdict.value(), instrument).empty()) << instrument.id;
        ASSERT_TRUE(verdict.value().remedy) << instrument.id;
        EXPECT_TRUE(checked(verdict.value().remedy->drill, instrument).ok()) << instrument.id;
    }
}

TEST(DrillVerdict, WhatIsCompleteHasNothingToSay) {
    for (const Instrument& instrument : catalogue()) {
        const auto verdict = verdictOn(defaultDrill(instrument), instrument);
        ASSERT_TRUE(verdict.ok()) << instrument.id;
        EXPECT_EQ(inWords(verdict.value(), instrument).empty(), verdict.value().told.complete())
            << instrument.id;
        EXPECT_FALSE(verdict.value().told.complete() && verdict.value().remedy) << instrument.id;
    }
}

TEST(DrillVerdict, FingerThatIsNeverAskedForIsNamed) {
    const Instrument& trumpet = *findInstrument("trumpet-b-flat");
    Drill drill = defaultDrill(trumpet);
    drill.pattern = CellPattern{{{58, 60, 58, 60}}}; // 1 to 0
    const auto verdict = verdictOn(drill, trumpet);
    ASSERT_TRUE(verdict.ok());
    std::set<std::string> never;
    for (const Suspect& suspect : verdict.value().told.neverPlayed)
        never.insert(inWords(suspect));
    EXPECT_TRUE(never.contains("3 pressing") && never.contains("2 releasing"));
    ASSERT_FALSE(inWords(verdict.value(), trumpet).empty());
}

TEST(DrillVerdict, DrillThatCannotBePlayedIsAProblem) {
    Drill drill;
    drill.pattern = CellPattern{{{20, 21}}};
    EXPECT_FALSE(verdictOn(drill, *findInstrument("trumpet-b-flat")).ok());
}

} // namespace
} // namespace valveladder
