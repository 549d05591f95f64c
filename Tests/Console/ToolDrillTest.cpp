#include "RunTool.h"

#include "Files/Smf.h"
#include "Records/Json.h"
#include "Score/Score.h"
#include "Valves/Spelling.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <cmath>
#include <map>

namespace valveladder {

using consoletest::linesOver;
using consoletest::Ran;
using consoletest::Sandbox;
using Json = nlohmann::json;

namespace {

Json jsonOf(const Ran& run) {
    EXPECT_EQ(run.exitCode, 0) << run.err;
    return Json::parse(run.out);
}

/// Note-ons of a channel (1..16) by note number.
std::map<int, int> noteOns(const SmfFile& file, int channel) {
    std::map<int, int> counts;
    for (const SmfTrack& track : file.tracks)
        for (const SmfEvent& event : track.events)
            if (event.bytes[0] == (0x90 | (channel - 1)) && event.bytes[2] > 0)
                ++counts[event.bytes[1]];
    return counts;
}

std::vector<double> temposOf(const SmfFile& file) {
    std::vector<double> tempos;
    for (const SmfEvent& event : file.tracks.front().events)
        if (event.bytes[0] == 0xFF && event.bytes[1] == 0x51)
            tempos.push_back(60e6 / (event.bytes[2] << 16 | event.bytes[3] << 8 | event.bytes[4]));
    return tempos;
}

SmfFile smf(const Sandbox& sandbox, const std::string& name) {
    auto file = readSmfFile(sandbox.file(name));
    EXPECT_TRUE(file.ok());
    return file ? file.value() : SmfFile{};
}

} // namespace

TEST(ToolInstruments, ListsTheCatalogueForPersonAndProgram) {
    const Sandbox sandbox;
    const Ran text = sandbox.run({"instruments"});
    EXPECT_EQ(text.exitCode, 0);
    EXPECT_EQ(linesOver(text.out, 80), std::vector<std::string>());
    const Json json = jsonOf(sandbox.run({"instruments", "--json"}));
    ASSERT_EQ(json.size(), catalogue().size());
    for (std::size_t i = 0; i < catalogue().size(); ++i) {
        EXPECT_EQ(json[i].at("id"), catalogue()[i].id);
        EXPECT_NE(text.out.find(catalogue()[i].id), std::string::npos);
    }
}

TEST(ToolInstruments, PrintedInstrumentServesAsThePlayersOwn) {
    const Sandbox sandbox;
    ASSERT_EQ(sandbox.shell("\"$TOOL\" instruments horn-double > mine.json").exitCode, 0);
    EXPECT_EQ(sandbox.run({"fingering", "G4..D5", "-i", "mine.json"}).out,
              sandbox.run({"fingering", "G4..D5", "-i", "horn-double"}).out);
}

// Written F sharp 3 on three ideal valves, 1-2-3 on partial 2: six semitones short by
// 600 - 1200 log2(1 + 0.12246 + 0.05946 + 0.18921) = 53.56 cents, by the formula of added tube lengths.
TEST(ToolFingering, TellsTheUsualFingeringWithItsCents) {
    const Sandbox sandbox;
    const Json json = jsonOf(sandbox.run({"fingering", "F#3", "--json"}));
    ASSERT_EQ(json.size(), 1u);
    EXPECT_EQ(json[0].at("sounding"), "E3");
    const Json usual = json[0].at("fingerings").at(0);
    EXPECT_EQ(usual.at("valves"), "1-2-3");
    EXPECT_EQ(usual.at("partial"), 2);
    EXPECT_NEAR(usual.at("cents").get<double>(), 53.56, 0.01);
}

TEST(ToolFingering, TakesRangesAndSoundingPitch) {
    const Sandbox sandbox;
    const Json range = jsonOf(sandbox.run({"fingering", "F#3..C4", "--json"}));
    EXPECT_EQ(range.size(), 7u);
    const Json sounding = jsonOf(sandbox.run({"fingering", "E3", "--sounding", "--json"}));
    EXPECT_EQ(sounding[0].at("written"), "F#3");
    EXPECT_NE(sandbox.run({"fingering", "C1"}).out.find("cannot be sounded"), std::string::npos);
    EXPECT_EQ(sandbox.run({"fingering", "F#3..C6", "G4"}).exitCode, 0);
}

TEST(ToolDrill, MakeWritesWhatTheOptionsSay) {
    const Sandbox sandbox;
    const Ran run = sandbox.run({"drill",      "make", "--foot",       "G3",       "--last-top", "F4",
                                 "--ratio",    "2:1",  "--shape",      "up-down",  "--growth",   "extend",
                                 "--segments", "2,3",  "--note-value", "1/16",     "--rest",     "3s",
                                 "--count-in", "2",    "--meter",      "3/4",      "--name",     "Mine",
                                 "--use",      "E4=3", "-o",           "mine.json"});
    ASSERT_EQ(run.exitCode, 0) << run.err;
    auto drill = drillFromJson(sandbox.read("mine.json"));
    ASSERT_TRUE(drill.ok());
    const auto& ladder = std::get<LadderPattern>(drill.value().pattern);
    EXPECT_EQ(ladder.foot, 55);
    EXPECT_EQ(ladder.firstTop, 61);
    EXPECT_EQ(ladder.lastTop, 65);
    EXPECT_EQ(ladder.shape, Shape::upDown);
    EXPECT_EQ(ladder.growth, Growth::extend);
    ASSERT_EQ(drill.value().segments.size(), 2u);
    EXPECT_EQ(drill.value().segments[0].rhythm, Rhythm::longShort(2, 1));
    EXPECT_EQ(drill.value().segments[1].rhythm, Rhythm::shortLong(2, 1));
    EXPECT_EQ(drill.value().noteTicks, ticksPerQuarter / 4);
    EXPECT_EQ(drill.value().rest, (Rest{3.0, Rest::Unit::seconds, true}));
    EXPECT_EQ(drill.value().countInBars, 2);
    EXPECT_EQ(drill.value().meter, (Meter{3, 4}));
    EXPECT_EQ(drill.value().name, "Mine");
    EXPECT_EQ(drill.value().fingering.byHand.at(64).name(), "3");
}

TEST(ToolDrill, MixRuleIsGivenByTheDrillFilesNameOrWithoutItsPer) {
    const Sandbox sandbox;
    for (const std::string rule : {"rung", "segment", "note"}) {
        const Json drill =
            jsonOf(sandbox.run({"drill", "make", "--policy", "mixed", "--mix", "per-" + rule}));
        EXPECT_EQ(drill.at("fingering").at("mix"), "per-" + rule);
        EXPECT_EQ(jsonOf(sandbox.run({"drill", "make", "--policy", "mixed", "--mix", rule})), drill);
    }
}

TEST(ToolDrill, MadeWithoutOptionsIsTheInstrumentsDailyLadder) {
    const Sandbox sandbox;
    for (const Instrument& instrument : catalogue()) {
        const Ran run = sandbox.run({"drill", "make", "-i", instrument.id});
        ASSERT_EQ(run.exitCode, 0) << instrument.id << run.err;
        auto drill = drillFromJson(run.out);
        ASSERT_TRUE(drill.ok());
        EXPECT_EQ(drill.value(), defaultDrill(instrument)) << instrument.id;
    }
}

// What the staff writes has writtenName() in Tests/Engraving/SpellingTest.cpp.
TEST(Spelling, TheConsoleNamesNotesAsStaffAndTitlesDo) {
    const Sandbox sandbox;
    for (const Instrument& instrument : catalogue()) {
        const Score score = buildScore(defaultDrill(instrument), instrument, 60.0).value();
        const Json shown = jsonOf(sandbox.run({"drill", "show", "-i", instrument.id, "--json"}));
        const Ran text = sandbox.run({"drill", "show", "-i", instrument.id});
        const Ran fingering = sandbox.run(
            {"fingering", "-i", instrument.id, writtenName(instrument, score.notes.front().written)});
        EXPECT_TRUE(fingering.out.starts_with(writtenName(instrument, score.notes.front().written) + " "))
            << fingering.out;
        std::size_t note = 0;
        for (const Json& span : shown.at("spans")) {
            EXPECT_NE(text.out.find(span.at("rung").get<std::string>()), std::string::npos) << instrument.id;
            for (const Json& named : span.at("notes")) {
                const std::string name = writtenName(instrument, score.notes.at(note++).written);
                ASSERT_EQ(named.at("written"), name) << instrument.id;
                ASSERT_NE(text.out.find(name), std::string::npos) << name << " of " << instrument.id;
            }
        }
        EXPECT_EQ(note, score.notes.size()) << instrument.id;
    }
}

TEST(ToolDrill, FileIsEditedInPlaceAndTheRestStays) {
    const Sandbox sandbox;
    ASSERT_EQ(sandbox.run({"drill", "make", "--cells", "E4 F#4; F#4 G4 F#4", "-o", "c.json"}).exitCode, 0);
    ASSERT_EQ(sandbox.run({"drill", "make", "-d", "c.json", "--repeats", "3", "-o", "c.json"}).exitCode, 0);
    auto drill = drillFromJson(sandbox.read("c.json"));
    ASSERT_TRUE(drill.ok());
    EXPECT_EQ(std::get<CellPattern>(drill.value().pattern).cells,
              (std::vector<DrillCell>{{64, 66}, {66, 67, 66}}));
    EXPECT_EQ(drill.value().repeats, 3);
}

TEST(ToolDrill, CellsCarryValvesAndRestsOfTheirOwn) {
    const Sandbox sandbox;
    ASSERT_EQ(
        sandbox.run({"drill", "make", "--cells", "A3=3 Bb3 rest=10s; A3=1-2 A#3=1", "-o", "c.json"}).exitCode,
        0);
    const auto drill = drillFromJson(sandbox.read("c.json"));
    ASSERT_TRUE(drill.ok()) << drill.problem().text();
    const auto& cells = std::get<CellPattern>(drill.value().pattern).cells;
    ASSERT_EQ(cells.size(), 2u);
    EXPECT_EQ(cells[0].valves, (std::vector<std::optional<Combination>>{Combination::parse("3"), {}}));
    EXPECT_EQ(cells[0].restAfter, (Rest{10.0, Rest::Unit::seconds, true}));
    EXPECT_EQ(cells[1].restAfter, std::nullopt);
    const Json shown = jsonOf(sandbox.run({"drill", "show", "-d", "c.json", "--json"}));
    EXPECT_EQ(shown.at("spans")[0].at("notes")[0].at("valves"), "3");
    EXPECT_EQ(shown.at("spans")[4].at("notes")[0].at("valves"), "1-2");
    EXPECT_EQ(sandbox.run({"drill", "make", "--cells", "A3=4 Bb3"}).exitCode, 1);
    EXPECT_EQ(sandbox.run({"drill", "make", "--cells", "A3= Bb3"}).exitCode, 2);
    EXPECT_EQ(sandbox.run({"drill", "make", "--cells", "A3 Bb3 rest=soon"}).exitCode, 2);
}

// Played up only, a trumpet's ladder has "3 pressing" in its one jump alone.
TEST(ToolDrill, ShowSaysWhatTheDrillCannotTellAndWhatWould) {
    const Sandbox sandbox;
    const Json up = jsonOf(sandbox.run({"drill", "check", "--shape", "up", "--json"}));
    ASSERT_FALSE(up.at("leftOpen").empty());
    const Ran text = sandbox.run({"drill", "show", "--shape", "up"});
    EXPECT_NE(text.out.find("What would tell: play each rung up and back down"), std::string::npos)
        << text.out;
    EXPECT_EQ(linesOver(text.out, 80), std::vector<std::string>());
}

TEST(ToolDrill, ShowNamesEveryNoteWithItsValves) {
    const Sandbox sandbox;
    const Ran text = sandbox.run({"drill", "show", "--shape", "up-down"});
    EXPECT_EQ(text.exitCode, 0);
    EXPECT_EQ(linesOver(text.out, 80), std::vector<std::string>());
    EXPECT_NE(text.out.find("F#3-C4, Even, firm"), std::string::npos) << text.out;
    const Json json = jsonOf(sandbox.run({"drill", "show", "--json"}));
    EXPECT_EQ(json.at("rungs"), 3);
    EXPECT_EQ(json.at("notes"), 3 * 4 * 13);
    EXPECT_EQ(json.at("spans").size(), 12u);
    EXPECT_EQ(json.at("spans")[0].at("notes")[0].at("valves"), "1-2-3");
}

TEST(ToolDrill, ShowAndCheckTakeTheFileAsAWord) {
    const Sandbox sandbox;
    ASSERT_EQ(sandbox.run({"drill", "make", "--cells", "E4 F#4; F#4 G4", "-o", "spot.json"}).exitCode, 0);
    for (const char* command : {"show", "check"}) {
        const Ran asWord = sandbox.run({"drill", command, "spot.json", "--bpm", "72"});
        EXPECT_EQ(asWord.exitCode, 0) << asWord.err;
        EXPECT_EQ(asWord.out, sandbox.run({"drill", command, "-d", "spot.json", "--bpm", "72"}).out);
        EXPECT_EQ(sandbox.run({"drill", command, "spot.json", "-d", "spot.json"}).exitCode, 2);
    }
}

TEST(ToolDrill, CheckWarnsOfASegmentLongerThanABreath) {
    const Sandbox sandbox;
    EXPECT_TRUE(jsonOf(sandbox.run({"drill", "check", "--json"})).at("warnings").empty());
    // A rung up and back is 13 eighths: 13 s at 30, where one way alone is 7 s.
    EXPECT_TRUE(jsonOf(sandbox.run({"drill", "check", "--shape", "up", "--bpm", "30", "--json"}))
                    .at("warnings")
                    .empty());
    const Ran slow = sandbox.run({"drill", "check", "--bpm", "30"});
    EXPECT_EQ(slow.exitCode, 0);
    EXPECT_NE(slow.out.find("longer than a breath"), std::string::npos) << slow.out;
}

TEST(ToolGuide, HoldsEveryNoteAtSoundingOrWrittenPitch) {
    const Sandbox sandbox;
    ASSERT_EQ(sandbox.run({"guide", "-o", "sounding.mid", "--bpm", "72"}).exitCode, 0);
    ASSERT_EQ(sandbox.run({"guide", "-o", "written.mid", "--bpm", "72", "--written"}).exitCode, 0);
    const Instrument& trumpet = *findInstrument("trumpet-b-flat");
    auto score = buildScore(defaultDrill(trumpet), trumpet, 72.0);
    ASSERT_TRUE(score.ok());
    std::map<int, int> sounding;
    std::map<int, int> written;
    for (const ScoreNote& note : score.value().notes) {
        ++sounding[note.sounding];
        ++written[note.written];
    }
    EXPECT_EQ(noteOns(smf(sandbox, "sounding.mid"), 1), sounding);
    EXPECT_EQ(noteOns(smf(sandbox, "written.mid"), 1), written);
    ASSERT_EQ(temposOf(smf(sandbox, "written.mid")).size(), 1u);
    EXPECT_NEAR(temposOf(smf(sandbox, "written.mid"))[0], 72.0, 1e-4);
}

TEST(ToolGuide, PartsCanBeLeftOutAndChannelsMoved) {
    const Sandbox sandbox;
    ASSERT_EQ(sandbox
                  .run({"guide", "-o", "g.mid", "--bpm", "72", "--click", "off", "--note-channel", "3",
                        "--no-valves"})
                  .exitCode,
              0);
    const SmfFile file = smf(sandbox, "g.mid");
    EXPECT_FALSE(noteOns(file, 3).empty());
    EXPECT_TRUE(noteOns(file, 1).empty());
    EXPECT_TRUE(noteOns(file, 10).empty());
}

TEST(ToolGuide, GoesToStandardOutputWhole) {
    const Sandbox sandbox;
    ASSERT_EQ(sandbox.run({"guide", "-o", "g.mid", "--bpm", "72"}).exitCode, 0);
    EXPECT_EQ(sandbox.run({"guide", "-o", "-", "--bpm", "72"}).out, sandbox.read("g.mid"));
}

TEST(ToolSession, StepsTheTempoFromTakeToTakeUpToTheCeiling) {
    const Sandbox sandbox;
    const Ran run = sandbox.run({"session", "-o", "s.mid", "--bpm", "60", "--takes", "4", "--step", "2",
                                 "--ceiling", "64", "--json"});
    const Json json = jsonOf(run);
    std::vector<double> planned;
    for (const Json& take : json.at("takes"))
        planned.push_back(take.at("bpm"));
    EXPECT_EQ(planned, (std::vector<double>{60, 62, 64, 64}));
    const SmfFile file = smf(sandbox, "s.mid");
    int notes = 0;
    for (const auto& [note, count] : noteOns(file, 1))
        notes += count;
    EXPECT_EQ(notes, 4 * 156);
    for (const double tempo : temposOf(file))
        EXPECT_TRUE(std::abs(tempo - 60) < 1e-3 || std::abs(tempo - 62) < 1e-3 ||
                    std::abs(tempo - 64) < 1e-3);
}

TEST(ToolSession, ListsItsTemposAsTheyAreWrittenElsewhere) {
    const Sandbox sandbox;
    const Ran run = sandbox.run({"session", "-o", "s.mid", "--bpm", "66.128", "--takes", "2", "--step", "2"});
    ASSERT_EQ(run.exitCode, 0) << run.err;
    for (const char* tempo : {"  66.13  ", "  68.13  "})
        EXPECT_NE(run.out.find(tempo), std::string::npos) << run.out;
    EXPECT_EQ(run.out.find("66.128"), std::string::npos) << run.out;
}

TEST(ToolSession, TempoMapHoldsNoNotes) {
    const Sandbox sandbox;
    ASSERT_EQ(sandbox.run({"session", "-o", "t.mid", "--bpm", "60", "--takes", "3", "--tempo-only"}).exitCode,
              0);
    const SmfFile file = smf(sandbox, "t.mid");
    EXPECT_EQ(temposOf(file).size(), 3u);
    for (int channel = 1; channel <= 16; ++channel)
        EXPECT_TRUE(noteOns(file, channel).empty());
}

} // namespace valveladder
