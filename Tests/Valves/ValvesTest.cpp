#include "Valves/Change.h"
#include "Valves/Fingering.h"
#include "Valves/Pitch.h"

#include <gtest/gtest.h>

#include <set>

namespace valveladder {
namespace {

TEST(Pitch, NamesAndReadingAreInverseForAllNotes) {
    for (MidiNote note = lowestMidiNote; note <= highestMidiNote; ++note) {
        EXPECT_EQ(parsePitch(pitchName(note, Spelling::sharps)), note);
        EXPECT_EQ(parsePitch(pitchName(note, Spelling::flats)), note);
    }
}

TEST(Pitch, GermanCallsBNaturalHAndBFlatB) {
    EXPECT_EQ(pitchName(59, Spelling::german), "H3");
    EXPECT_EQ(pitchName(58, Spelling::german), "B3");
    EXPECT_EQ(pitchName(60, Spelling::fixedDo), "do4");
}

TEST(Pitch, NonsenseIsRefused) {
    for (const char* text : {"", "H3", "C", "C#", "C##4", "C4x", "C99", "G#9", "4C", " C4"})
        EXPECT_EQ(parsePitch(text), std::nullopt) << text;
}

// Source: ISO 16:1975, A4 = 440 Hz.
TEST(Pitch, A4Is440Hz) {
    EXPECT_DOUBLE_EQ(frequencyHz(69), 440.0);
    EXPECT_NEAR(centsBetween(frequencyHz(70), 440.0), 100.0, 1e-9);
}

TEST(Combination, NamesAndReadingAreInverseForAllSixteen) {
    for (int bits = 0; bits < 16; ++bits) {
        const Combination combination(static_cast<std::uint8_t>(bits));
        EXPECT_EQ(Combination::parse(combination.name()), combination);
    }
    EXPECT_EQ(Combination::parse("13"), Combination::parse("1-3"));
}

TEST(Combination, NonsenseIsRefused) {
    for (const char* text : {"", "5", "11", "1-", "-1", "1--3", "0-1", "a"})
        EXPECT_EQ(Combination::parse(text), std::nullopt) << text;
}

TEST(Change, TellsPressedAndReleasedFingers) {
    const Change change{Combination::parse("1-2").value(), Combination::parse("2-3").value()};
    EXPECT_EQ(change.pressed().name(), "3");
    EXPECT_EQ(change.released().name(), "1");
    EXPECT_EQ(change.fingersMoved(), 2);
}

TEST(Change, IsCalledAsItsCombinationsAre) {
    const Change change{Combination::parse("4").value(), Combination::parse("2-3-4").value()};
    EXPECT_EQ(changeName(change, false), "4 to 2-3-4");
    EXPECT_EQ(changeName(change, true), "T0 to T2-3");
}

TEST(Combination, FingersAloneHaveNoOpenValves) {
    EXPECT_EQ(fingersName(Combination::parse("4").value(), true), "T");
    EXPECT_EQ(fingersName(Combination::parse("2-4").value(), true), "2-T");
    EXPECT_EQ(fingersName(Combination::parse("2-4").value(), false), "2-4");
}

TEST(Instrument, EveryOneOfTheCatalogueIsSoundAndUnique) {
    std::set<std::string> ids;
    for (const Instrument& instrument : catalogue()) {
        EXPECT_TRUE(checked(instrument).ok()) << instrument.id;
        EXPECT_TRUE(ids.insert(instrument.id).second) << instrument.id;
        EXPECT_EQ(findInstrument(instrument.id), &instrument);
    }
}

TEST(Instrument, ABadDescriptionIsRefusedWithItsName) {
    Instrument bad = catalogue().front();
    bad.valves = 7;
    EXPECT_FALSE(checked(bad).ok());
    bad = catalogue().front();
    bad.sides.clear();
    EXPECT_FALSE(checked(bad).ok());
    bad = catalogue().front();
    bad.sides.front().tubes[1] = -1.0;
    EXPECT_NE(checked(bad).problem().text().find("trumpet-b-flat"), std::string::npos);
}

TEST(Fingering, EveryCatalogueNoteOfTheDrillRangeCanBePlayed) {
    for (const Instrument& instrument : catalogue())
        for (MidiNote note = instrument.ladderFoot; note <= instrument.highest; ++note)
            EXPECT_FALSE(fingerings(instrument, note).empty())
                << instrument.id << " " << pitchName(note, Spelling::sharps);
}

TEST(Fingering, NoCombinationTwiceAndNoValveThatIsNotThere) {
    for (const Instrument& instrument : catalogue())
        for (MidiNote note = instrument.lowest; note <= instrument.highest; ++note) {
            std::set<Combination> seen;
            for (const Fingering& fingering : fingerings(instrument, note)) {
                EXPECT_TRUE(seen.insert(fingering.combination).second);
                EXPECT_TRUE(instrument.valves == 4 || !fingering.combination.has(4));
                EXPECT_LT(std::abs(fingering.cents), 130.0);
            }
        }
}

TEST(Fingering, PoliciesChooseFourOrOneThree) {
    const Instrument& euphonium = *findInstrument("euphonium-4-compensating-treble");
    const MidiNote g3 = 55;
    const auto choose = [&](Policy policy, int segment) {
        return chooseFingering(euphonium, g3, {policy, MixRule::perSegment, {}}, {0, segment, 0})
            ->combination.name();
    };
    EXPECT_EQ(choose(Policy::usual, 0), "4");
    EXPECT_EQ(choose(Policy::fourthValve, 0), "4");
    EXPECT_EQ(choose(Policy::oneThree, 0), "1-3");
    EXPECT_EQ(choose(Policy::mixed, 0), "4");
    EXPECT_EQ(choose(Policy::mixed, 1), "1-3");
}

TEST(Fingering, PoliciesFallBackToTheUsualChoiceOnThreeValves) {
    const Instrument& trumpet = *findInstrument("trumpet-b-flat");
    for (const Policy policy : {Policy::usual, Policy::fourthValve, Policy::oneThree})
        EXPECT_EQ(chooseFingering(trumpet, 55, {policy, MixRule::perSegment, {}}, {})->combination.name(),
                  "1-3");
    EXPECT_EQ(
        chooseFingering(trumpet, 57, {Policy::mixed, MixRule::perSegment, {}}, {0, 1, 0})->combination.name(),
        "3");
}

TEST(Fingering, AListByHandWins) {
    const Instrument& trumpet = *findInstrument("trumpet-b-flat");
    FingeringPolicy policy;
    policy.byHand[57] = Combination::parse("3").value();
    EXPECT_EQ(chooseFingering(trumpet, 57, policy, {})->combination.name(), "3");
}

TEST(Fingering, NothingOutsideTheRange) {
    EXPECT_TRUE(fingerings(*findInstrument("trumpet-b-flat"), 20).empty());
    EXPECT_EQ(chooseFingering(*findInstrument("trumpet-b-flat"), 120, {}, {}), std::nullopt);
}

} // namespace
} // namespace valveladder
