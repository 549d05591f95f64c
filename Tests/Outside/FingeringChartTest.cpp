// Fingerings and intonation against published charts and tables. Each test names its source.
#include "Valves/Fingering.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <string>
#include <vector>

namespace valveladder {
namespace {

Combination combination(const std::string& name) {
    return Combination::parse(name).value();
}

const Instrument& instrument(const std::string& id) {
    const Instrument* found = findInstrument(id);
    EXPECT_NE(found, nullptr) << id;
    return *found;
}

std::string usualName(const std::string& id, const std::string& note) {
    const auto choices = fingerings(instrument(id), parsePitch(note).value());
    return choices.empty() ? "none" : choices.front().combination.name();
}

// Source: "Special-T trumpet overtone series", Wikimedia Commons: written F#3 to C6, any three-valve brass.
const std::vector<std::pair<std::string, std::string>> publishedChart{
    {"F#3", "123"}, {"G3", "13"}, {"G#3", "23"}, {"A3", "12"}, {"Bb3", "1"}, {"B3", "2"},   {"C4", "0"},
    {"C#4", "123"}, {"D4", "13"}, {"Eb4", "23"}, {"E4", "12"}, {"F4", "1"},  {"F#4", "2"},  {"G4", "0"},
    {"G#4", "23"},  {"A4", "12"}, {"Bb4", "1"},  {"B4", "2"},  {"C5", "0"},  {"C#5", "12"}, {"D5", "1"},
    {"Eb5", "2"},   {"E5", "0"},  {"F5", "1"},   {"F#5", "2"}, {"G5", "0"},  {"G#5", "23"}, {"A5", "12"},
    {"Bb5", "1"},   {"B5", "2"},  {"C6", "0"}};

// The same chart's alternates. Its E flat 5 alternate "2" is a misprint for 2-3 (2 is the main choice
// already; a fifth partial lowered by one, and the sixth lowered by four, give E flat 5).
const std::vector<std::pair<std::string, std::string>> publishedAlternates{
    {"F#4", "123"}, {"G4", "13"},  {"Bb4", "123"}, {"B4", "13"},   {"C5", "23"},
    {"D5", "13"},   {"Eb5", "23"}, {"E5", "12"},   {"F#5", "123"}, {"G5", "13"},
    {"G#5", "1"},   {"Bb5", "0"},  {"B5", "13"},   {"B5", "12"},   {"C6", "1"}};

TEST(FingeringChart, All31NotesOfThePublishedChartComeFirst) {
    ASSERT_EQ(publishedChart.size(), 31U);
    for (const char* id : {"trumpet-b-flat", "trumpet-c", "cornet-b-flat", "cornet-c", "flugelhorn-b-flat",
                           "alto-horn-e-flat", "baritone-treble", "euphonium-3-treble"})
        for (const auto& [note, valves] : publishedChart)
            EXPECT_EQ(usualName(id, note), combination(valves).name()) << id << " " << note;
}

TEST(FingeringChart, PublishedAlternatesAreOffered) {
    for (const auto& [note, valves] : publishedAlternates) {
        const auto choices = fingerings(instrument("trumpet-b-flat"), parsePitch(note).value());
        const bool offered =
            std::any_of(choices.begin() + 1, choices.end(),
                        [v = valves](const Fingering& f) { return f.combination == combination(v); });
        EXPECT_TRUE(offered) << note << " " << valves;
    }
}

TEST(FingeringChart, ThirdValveAloneIsOfferedForEveryOneTwo) {
    for (const auto& [note, valves] : publishedChart) {
        if (valves != "12")
            continue;
        const auto choices = fingerings(instrument("trumpet-b-flat"), parsePitch(note).value());
        EXPECT_EQ(std::count_if(choices.begin(), choices.end(),
                                [](const Fingering& f) { return f.combination == combination("3"); }),
                  1)
            << note;
    }
}

// Source: four-valve lowering list, "Brass instrument: valves", liquisearch.com (a mirror of Wikipedia's
// article); preference of 4 to 1-3 and 2-4 to 1-2-3: Funderburk, University of Northern Iowa, "The fourth
// valve".
TEST(FingeringChart, FourValveListLowersAsPublished) {
    const std::vector<std::pair<int, std::vector<std::string>>> list{
        {5, {"4", "13"}}, {6, {"24", "123"}}, {7, {"14"}},   {8, {"124", "34"}},
        {9, {"234"}},     {10, {"134"}},      {11, {"1234"}}};
    const Instrument& euphonium = instrument("euphonium-4-compensating-bass");
    const MidiNote second = euphonium.sides.front().fundamental + 12;
    for (const auto& [lowering, names] : list) {
        const auto choices = fingerings(euphonium, second - lowering);
        ASSERT_FALSE(choices.empty()) << lowering;
        EXPECT_EQ(choices.front().combination, combination(names.front())) << lowering;
        for (const auto& name : names)
            EXPECT_TRUE(std::any_of(choices.begin(), choices.end(),
                                    [&](const Fingering& f) {
                                        return f.combination == combination(name) && f.lowering == lowering;
                                    }))
                << lowering << " " << name;
    }
}

// Source: Wes Flinn, "Tuba/Euphonium Tuesday 4", 2011: without compensation the deepest notes take the
// fingering of the note a semitone lower, and the note above the pedal is missing.
TEST(FingeringChart, DeepNotesWithoutCompensationTakeTheNextLongerFingering) {
    for (const char* id : {"euphonium-4-bass", "tuba-b-flat-4", "tuba-f-4"}) {
        const Instrument& deep = instrument(id);
        const MidiNote second = deep.sides.front().fundamental + 12;
        const auto usual = [&](int lowering) {
            return fingerings(deep, second - lowering).front().combination.name();
        };
        EXPECT_EQ(usual(8), "2-3-4") << id;
        EXPECT_EQ(usual(9), "1-3-4") << id;
        EXPECT_EQ(usual(10), "1-2-3-4") << id;
        EXPECT_TRUE(fingerings(deep, second - 11).empty()) << id;
    }
}

// Source: a published single-page horn chart, as US habit: F side G3 to G4, B flat side from D flat 5, T2-3
// on A flat 4 and D flat 5; sides by Kloss 1998. F side = trumpet chart an octave up, B flat side = trumpet
// chart a fifth up.
TEST(FingeringChart, DoubleHornFollowsThePublishedHabit) {
    const Instrument& horn = instrument("horn-double");
    const auto usual = [&](const char* note) {
        return horn.combinationName(fingerings(horn, parsePitch(note).value()).front().combination);
    };
    const std::vector<std::pair<const char*, const char*>> chart{
        {"G3", "0"},     {"G#3", "2-3"},  {"A3", "1-2"},  {"Bb3", "1"},  {"B3", "2"},  {"C4", "0"},
        {"C#4", "1-2"},  {"D4", "1"},     {"Eb4", "2"},   {"E4", "0"},   {"F4", "1"},  {"F#4", "2"},
        {"G4", "0"},     {"Ab4", "T2-3"}, {"A4", "T1-2"}, {"Bb4", "T1"}, {"B4", "T2"}, {"C5", "T0"},
        {"Db5", "T2-3"}, {"D5", "T1-2"},  {"Eb5", "T1"},  {"E5", "T2"},  {"F5", "T0"}};
    for (const auto& [note, name] : chart)
        EXPECT_EQ(usual(note), name) << note;
}

// Source: the same chart, F#3 to C6, for "any three-valve brass" read in treble clef with written C4 open.
// Four valves only put 4 for 1-3 and 2-4 for 1-2-3 (Funderburk, University of Northern Iowa, "The fourth
// valve").
TEST(FingeringChart, BrassBandBassesAreFingeredAsACornetInTrebleClef) {
    for (const char* size : {"tuba-e-flat", "tuba-b-flat"})
        for (const char* kind :
             {"-3-treble", "-3-compensating-treble", "-4-treble", "-4-compensating-treble"}) {
            const std::string id = std::string(size) + kind;
            EXPECT_EQ(instrument(id).clef, Clef::treble) << id;
            const bool four = instrument(id).valves == 4;
            for (const auto& [note, valves] : publishedChart) {
                const std::string four4 = valves == "13" ? "4" : valves == "123" ? "24" : valves;
                EXPECT_EQ(usualName(id, note), combination(four ? four4 : valves).name())
                    << id << " " << note;
            }
        }
}

// Common practice, no source: the E flat bass sounds an octave and a major sixth below what it reads in
// treble clef, the B flat bass two octaves and a major second. They are the instruments that read concert
// pitch in bass clef as E flat and B flat tuba: the open fundamental and every fingering sound alike.
TEST(FingeringChart, BrassBandBassesSoundAsTheSameTubasInBassClef) {
    EXPECT_EQ(instrument("tuba-e-flat-3-treble").transposition, -(12 + 9));
    EXPECT_EQ(instrument("tuba-b-flat-3-treble").transposition, -(24 + 2));
    for (const char* size : {"tuba-e-flat", "tuba-b-flat"})
        for (const char* kind : {"-3", "-3-compensating", "-4", "-4-compensating"}) {
            const std::string id = std::string(size) + kind;
            const Instrument& bass = instrument(id);
            const Instrument& treble = instrument(id + "-treble");
            EXPECT_EQ(treble.compensation, bass.compensation) << id;
            for (MidiNote note = treble.lowest; note <= treble.highest; ++note) {
                const auto read = fingerings(treble, note);
                const auto same = fingerings(bass, bass.written(treble.sounding(note)));
                EXPECT_EQ(read, same) << id << " " << pitchName(note, Spelling::sharps);
            }
        }
}

/// Of ideal tubes, in cents: 100 N - 1200 log2(1 + tube), where N is the sum of the valves' semitones.
double sharpness(Compensation compensation, const std::string& name) {
    constexpr std::array<int, 4> semitones{2, 1, 3, 5};
    const Combination pressed = combination(name);
    int nominal = 0;
    for (int valve = 1; valve <= maxValves; ++valve)
        nominal += pressed.has(valve) ? semitones[static_cast<std::size_t>(valve - 1)] : 0;
    return 100.0 * nominal - loweringCents({"", 48, idealTubes()}, compensation, pressed);
}

// Source: James Madison University, "Why the math doesn't add up", 2016: steps of 6 %, shortfall in per cent
// of the open length.
TEST(FingeringChart, ShortfallsMatchTheJamesMadisonTable) {
    const auto tube = [](int semitones) { return std::pow(1.06, semitones) - 1.0; };
    const Side side{"", 48, {tube(2), tube(1), tube(3), tube(5)}};
    struct Row {
        const char* name;
        int semitones;
        double shortfallPercent;
    };
    for (const Row& row : {Row{"12", 3, .74}, Row{"23", 4, 1.15}, Row{"13", 5, 2.37}, Row{"123", 6, 4.4}}) {
        const double has = std::exp2(loweringCents(side, Compensation::none, combination(row.name)) / 1200.0);
        EXPECT_NEAR(100.0 * (std::pow(1.06, row.semitones) - has), row.shortfallPercent, 0.02) << row.name;
    }
}

// Source: "Optimization of valve tube lengths for brass instruments": the worst three-valve design (each tube
// ideal alone) has 24 cents rms. The seven combinations are inferred: 0, 2, 1, 1-2, 2-3, 1-3, 1-2-3.
TEST(FingeringChart, RmsOverSevenCombinationsMatchesThePublishedWorstCase) {
    double sum = 0.0;
    for (const char* name : {"0", "2", "1", "12", "23", "13", "123"})
        sum += std::pow(sharpness(Compensation::none, name), 2);
    EXPECT_NEAR(std::sqrt(sum / 7.0), 24.0, 0.5);
}

// Source: J. Monzo, "Trumpet", en.xen.wiki: tubes of 1/8, 1/15, 1/5 lower by 204, 112, 316 cents; 1-2 304,
// 2-3 409, 1-3 487, 1-2-3 572.
TEST(FingeringChart, LongValvesLowerAsInMonzosTable) {
    const Side side{"", 48, {1.0 / 8, 1.0 / 15, 1.0 / 5, 0.33}};
    const std::map<std::string, double> lowered{{"1", 204},  {"2", 112},  {"3", 316},  {"12", 304},
                                                {"23", 409}, {"13", 487}, {"123", 572}};
    for (const auto& [name, cents] : lowered)
        EXPECT_NEAR(loweringCents(side, Compensation::none, combination(name)), cents, 0.5) << name;
}

// Source: T. Moore, "Acoustics of brass musical instruments", Acoustics Today, Winter 2016, p. 38: an open
// length of 140 cm asks for 8.3 cm (one semitone) and 17.2 cm (two); both together need 26.5 and get 25.5.
TEST(FingeringChart, TubeLengthsMatchMooresExample) {
    constexpr double openCm = 140.0;
    EXPECT_NEAR(openCm * idealTubes()[1], 8.3, 0.1);
    EXPECT_NEAR(openCm * idealTubes()[0], 17.2, 0.1);
    EXPECT_NEAR(openCm * (idealTubes()[0] + idealTubes()[1]), 25.5, 0.1);
    EXPECT_NEAR(openCm * idealTubes()[2], 26.5, 0.1);
}

// Source: compensation sends the air through second loops (Blaikley 1878). With ideal tubes 1-3 and 2-3
// become exact on three valves; on four, 2-4 and 1-4 are exact and 1-2-3-4 stays as sharp as 1-2-3 alone, the
// low B natural that players still find unsatisfactory (forum thread 129709 at dwerden.com).
TEST(FingeringChart, CompensationLeavesWhatIsPublished) {
    EXPECT_NEAR(sharpness(Compensation::threeValve, "13"), 0.0, 1e-9);
    EXPECT_NEAR(sharpness(Compensation::threeValve, "23"), 0.0, 1e-9);
    EXPECT_NEAR(sharpness(Compensation::fourValve, "24"), 0.0, 1e-9);
    EXPECT_NEAR(sharpness(Compensation::fourValve, "14"), 0.0, 1e-9);
    EXPECT_NEAR(sharpness(Compensation::fourValve, "1234"), sharpness(Compensation::none, "123"), 1e-9);
}

} // namespace
} // namespace valveladder
