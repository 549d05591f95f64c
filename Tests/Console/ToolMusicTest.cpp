#include "RunTool.h"

#include "Files/MusicXml.h"
#include "Files/Smf.h"
#include "Log/LogStore.h"
#include "Records/Json.h"
#include "Support/FiveChangesTake.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <optional>

namespace valveladder {

using consoletest::linesOver;
using consoletest::Ran;
using consoletest::Sandbox;
using nlohmann::json;

namespace {

const std::string study = VALVE_LADDER_SOURCE_DIR "/Resources/parts/two-spots.musicxml";

json answered(const Ran& run) {
    EXPECT_EQ(run.exitCode, 0) << run.err;
    return json::parse(run.out, nullptr, false);
}

std::vector<std::uint8_t> bytesOf(const std::string& text) {
    return {text.begin(), text.end()};
}

/// A log in which Ann, invented, was heard in one change.
void keepInventedTake(const Sandbox& sandbox, std::optional<double> changeoverMs) {
    auto store = LogStore::open(sandbox.log());
    ASSERT_TRUE(store) << store.problem().text();
    const Result<Done> kept = store.value()->finishTake(testing::fiveChangesTake(true, changeoverMs));
    ASSERT_TRUE(kept) << kept.problem().text();
}

} // namespace

TEST(ToolMark, TellsTheSpotsInWords) {
    const Sandbox sandbox;
    const Ran run = sandbox.run({"mark", study});
    EXPECT_EQ(run.exitCode, 0) << run.err;
    EXPECT_NE(run.out.find("  1  bars 2-3: 2-3 to 1-3, six times, at 12 changes a second\n     cost 3.24\n"),
              std::string::npos)
        << run.out;
    EXPECT_NE(run.out.find("fingers moved"), std::string::npos);
}

TEST(ToolMark, ListsPartsAndVoicesAndAsksWhichOne) {
    const Sandbox sandbox;
    const std::string two = "<score-partwise><part-list><score-part "
                            "id=\"P1\"><part-name>First</part-name></score-part><score-part "
                            "id=\"P2\"><part-name>Second</part-name></score-part></part-list>";
    const std::string bar = "<measure number=\"1\"><note><pitch><step>C</step><octave>5</octave></pitch>"
                            "<duration>4</duration></note></measure></part>";
    sandbox.write("two.xml", two + "<part id=\"P1\">" + bar + "<part id=\"P2\">" + bar + "</score-partwise>");
    const json parts = answered(sandbox.run({"mark", "two.xml", "--list", "--json"})).at("parts");
    ASSERT_EQ(parts.size(), 2U);
    EXPECT_EQ(parts[1]["name"], "Second");
    EXPECT_EQ(parts[1]["voices"][0]["notes"], 1);
    const Ran unsure = sandbox.run({"mark", "two.xml"});
    EXPECT_EQ(unsure.exitCode, 1);
    EXPECT_NE(unsure.err.find("--part"), std::string::npos);
    EXPECT_EQ(sandbox.run({"mark", "two.xml", "--part", "2"}).exitCode, 0);
    EXPECT_EQ(sandbox.run({"mark", "two.xml", "--part", "3"}).exitCode, 1);
}

TEST(ToolMark, CostsAndLimitsAreThePlayersOwnWhereTheLogKnowsThem) {
    const Sandbox sandbox;
    keepInventedTake(sandbox, 62.5);
    const json marked = answered(sandbox.run({"mark", study, "--player", "Ann", "--json"}));
    EXPECT_EQ(marked.at("ownChanges"), 1);
    EXPECT_EQ(marked.at("costsFrom").get<std::string>().rfind("Costs go by Ann's own changeovers", 0), 0U)
        << marked.at("costsFrom");
    EXPECT_EQ(marked.at("whyNothing"), nullptr);
    // 62.5 ms fill half of 125 ms: eight changes a second. Six changes of 62.5 ms in 1/12 s cost 4.5.
    EXPECT_EQ(marked["spots"][0]["limit"], 8.0);
    EXPECT_NEAR(marked["spots"][0]["cost"].get<double>(), 4.5, 1e-9);
    EXPECT_EQ(marked["spots"][1]["limit"], nullptr);
}

TEST(ToolMark, SaysWhyNothingIsThePlayersOwn) {
    const Sandbox sandbox;
    const auto costsFrom = [&](const std::string& player) {
        return answered(sandbox.run({"mark", study, "--player", player, "--json"}))
            .at("costsFrom")
            .get<std::string>();
    };
    EXPECT_NE(costsFrom("Ann").find("There is no log yet at"), std::string::npos) << costsFrom("Ann");
    keepInventedTake(sandbox, std::nullopt);
    EXPECT_NE(
        costsFrom("Ann").find("of the 5 changes logged of Ann on Trumpet in B flat none has been measured"),
        std::string::npos)
        << costsFrom("Ann");
    EXPECT_NE(costsFrom("Bo").find("holds no take of Bo, but of Ann on trumpet-b-flat"), std::string::npos)
        << costsFrom("Bo");
    const Ran other = sandbox.run({"mark", study, "--as-written", "-i", "cornet-b-flat", "--player", "Ann"});
    EXPECT_NE(other.out.find("no change of Ann on Cornet in B flat"), std::string::npos) << other.out;
    EXPECT_EQ(linesOver(other.out, 80), std::vector<std::string>());
}

// 8 ms of the 1/12 s between two notes are less than a fifth; at 2.1 times the tempo they are more.
TEST(ToolMark, SaysWhyNothingIsMarkedAndAtWhichTempoSomethingIs) {
    const Sandbox sandbox;
    keepInventedTake(sandbox, 8.0);
    const json marked = answered(sandbox.run({"mark", study, "--json"}));
    EXPECT_EQ(marked.at("allSpots"), 0);
    const std::string why = marked.at("whyNothing");
    EXPECT_NE(why.find("share of its time, 10 %; marks begin at 20 %"), std::string::npos) << why;
    EXPECT_NE(why.find("--tempo 210"), std::string::npos) << why;
    EXPECT_GT(answered(sandbox.run({"mark", study, "--tempo", "210", "--json"})).at("allSpots"), 0);
    const Ran drill = sandbox.run({"mark", study, "--drill", "1", "-o", "x.json"});
    EXPECT_EQ(drill.exitCode, 1);
    EXPECT_NE(drill.err.find("Nothing is marked: "), std::string::npos) << drill.err;
}

TEST(ToolMark, WritesThePartBackWithFingeringsAndMarksPlainAndCompressed) {
    const Sandbox sandbox;
    for (const char* name : {"marked.musicxml", "marked.mxl"}) {
        ASSERT_EQ(sandbox.run({"mark", study, "-o", name}).exitCode, 0);
        const Result<MusicXmlFile> file = MusicXmlFile::readFile(sandbox.file(name));
        ASSERT_TRUE(file) << file.problem().text();
        const Result<MusicXmlFile> original = MusicXmlFile::readFile(study);
        EXPECT_EQ(file.value().part({}).value(), original.value().part({}).value());
    }
    const std::string text = sandbox.read("marked.musicxml");
    EXPECT_NE(text.find("<words>bars 2-3: 2-3 to 1-3, six times, at 12 changes a second"), std::string::npos);
    EXPECT_NE(text.find("<fingering>1-3</fingering>"), std::string::npos);
    EXPECT_EQ(sandbox.read("marked.mxl").substr(0, 2), "PK");
}

TEST(ToolMark, SaysWhichFilesItWrote) {
    const Sandbox sandbox;
    for (const char* name : {"marked.musicxml", "marked.mid", "marked.pdf", "marked.svg"}) {
        const Ran run = sandbox.run({"mark", study, "--spots", "1", "-o", name});
        EXPECT_EQ(run.exitCode, 0) << run.err;
        EXPECT_EQ(run.out.rfind(std::string(name) + ": the part with fingerings and 1 marked spot\n", 0), 0U)
            << run.out;
        const json told = answered(sandbox.run({"mark", study, "-o", name, "--json"}));
        EXPECT_EQ(told.at("file"), name);
        EXPECT_EQ(told.at("files"), json::array({name}));
    }
    const json unwritten = answered(sandbox.run({"mark", study, "--json"}));
    EXPECT_EQ(unwritten.at("file"), nullptr);
    EXPECT_TRUE(unwritten.at("files").empty());
    const Ran piped = sandbox.run({"mark", study, "-o", "-"});
    EXPECT_NE(piped.out.find("<score-partwise"), std::string::npos);
    EXPECT_EQ(piped.out.find("the part with"), std::string::npos) << "nothing but the part goes there";
}

TEST(ToolMark, WritesMidiWithAMarkerForEachSpot) {
    const Sandbox sandbox;
    ASSERT_EQ(sandbox.run({"mark", study, "--spots", "3", "-o", "marked.mid"}).exitCode, 0);
    const Result<SmfFile> file = readSmf(bytesOf(sandbox.read("marked.mid")));
    ASSERT_TRUE(file) << file.problem().text();
    const auto& signs = file.value().tracks.front().events;
    EXPECT_EQ(std::count_if(signs.begin(), signs.end(),
                            [](const SmfEvent& e) { return e.bytes[0] == 0xFF && e.bytes[1] == 6; }),
              3);
    // What it wrote it reads: the same spots.
    const json again = answered(sandbox.run({"mark", "marked.mid", "--json"}));
    EXPECT_EQ(again["spots"][0]["times"], 6);
    EXPECT_EQ(sandbox.run({"mark", "marked.mid", "-o", "x.musicxml"}).exitCode, 1);
}

TEST(ToolMark, NamesInCapitalsSayTheKindAsWell) {
    const Sandbox sandbox;
    for (const char* name : {"X.MID", "X.Midi", "x.smf"}) {
        ASSERT_EQ(sandbox.run({"mark", study, "-o", name}).exitCode, 0) << name;
        EXPECT_EQ(sandbox.read(name).substr(0, 4), "MThd") << name;
    }
    ASSERT_EQ(sandbox.run({"mark", study, "-o", "X.MXL"}).exitCode, 0);
    EXPECT_EQ(sandbox.read("X.MXL").substr(0, 2), "PK");
    ASSERT_EQ(sandbox.run({"sheet", "--bpm", "60", "-o", "SHEET.MXL"}).exitCode, 0);
    EXPECT_EQ(sandbox.read("SHEET.MXL").substr(0, 2), "PK");
}

TEST(ToolMark, SpotThatIsRepeatedIsListedOnceAndMarkedWhereverItIsPlayed) {
    const Sandbox sandbox;
    std::string text = sandbox.read(study);
    text.insert(text.rfind("</measure>"),
                "<barline location=\"right\"><repeat direction=\"backward\"/></barline>");
    sandbox.write("twice.musicxml", text);
    const json marked = answered(sandbox.run({"mark", "twice.musicxml", "--json"}));
    ASSERT_EQ(marked.at("allSpots"), 4);
    EXPECT_EQ(marked["spots"][0]["times"], 6);
    EXPECT_EQ(marked["spots"][0]["passes"], 2);
    EXPECT_EQ(marked["spots"][0]["lastBar"], "3");
    ASSERT_EQ(sandbox.run({"mark", "twice.musicxml", "--spots", "1", "-o", "twice.mid"}).exitCode, 0);
    const Result<SmfFile> file = readSmf(bytesOf(sandbox.read("twice.mid")));
    ASSERT_TRUE(file) << file.problem().text();
    const auto& signs = file.value().tracks.front().events;
    EXPECT_EQ(std::count_if(signs.begin(), signs.end(),
                            [](const SmfEvent& e) { return e.bytes[0] == 0xFF && e.bytes[1] == 6; }),
              2);
}

TEST(ToolMark, SpotBecomesADrillThatEveryCommandTakesAtItsPlansTempo) {
    const Sandbox sandbox;
    const json drill = answered(sandbox.run({"mark", study, "--drill", "1", "-o", "spot.json", "--json"}));
    EXPECT_EQ(drill.at("startBpm"), 90.0);
    EXPECT_EQ(drill.at("ceilingBpm"), 180.0);
    ASSERT_TRUE(drillFromJson(sandbox.read("spot.json")));
    EXPECT_EQ(answered(sandbox.run({"guide", "--drill", "spot.json", "-o", "g.mid", "--json"})).at("bpm"),
              90.0);
    for (const std::vector<std::string>& command :
         std::vector<std::vector<std::string>>{{"drill", "check", "--drill", "spot.json"},
                                               {"session", "--drill", "spot.json", "-o", "s.mid"},
                                               {"sheet", "--drill", "spot.json", "-o", "s.musicxml"},
                                               {"backing", "--drill", "spot.json", "-o", "b.mid"},
                                               {"plan", "--drill", "spot.json"}})
        EXPECT_EQ(sandbox.run(command).exitCode, 0) << command.front();
    EXPECT_EQ(answered(sandbox.run({"mark", study, "--drill", "2", "-o", "spot2.json", "--save", "--player",
                                    "Ann", "--json"}))
                  .at("saved"),
              true);
    EXPECT_EQ(answered(sandbox.run(
                  {"plan", "--drill", "spot2.json", "--player", "Ann", "--json"}))["rules"]["ceilingBpm"],
              180.0);
    EXPECT_EQ(sandbox.run({"mark", study, "--drill", "99", "-o", "x.json"}).exitCode, 1);
    EXPECT_EQ(sandbox.run({"mark", study, "--drill", "1"}).exitCode, 1);
}

TEST(ToolMark, FingersAConcertPartByWhatItSounds) {
    const Sandbox sandbox;
    std::string concert = std::string(
        "<score-partwise><part-list><score-part id=\"P1\"><part-name>C</part-name></score-part></part-list>"
        "<part id=\"P1\"><measure number=\"1\"><note><pitch><step>B</step><alter>-1</alter><octave>4</octave>"
        "</pitch><duration>4</duration></note></measure></part></score-partwise>");
    sandbox.write("concert.xml", concert);
    const Ran bySound = sandbox.run({"mark", "concert.xml", "--json"});
    EXPECT_EQ(answered(bySound)["notes"][0]["written"], "C5");
    EXPECT_NE(bySound.err.find("--as-written"), std::string::npos);
    EXPECT_EQ(answered(sandbox.run({"mark", "concert.xml", "--as-written", "--json"}))["notes"][0]["written"],
              "Bb4");
}

TEST(ToolMark, RefusesWhatItCannotReadWithWords) {
    const Sandbox sandbox;
    sandbox.write("text.txt", "no music");
    sandbox.write("empty.xml", "");
    for (const char* file : {"text.txt", "empty.xml", "missing.xml"}) {
        const Ran run = sandbox.run({"mark", file});
        EXPECT_EQ(run.exitCode, 1) << file;
        EXPECT_NE(run.err.find(file), std::string::npos) << run.err;
    }
    EXPECT_EQ(sandbox.run({"mark"}).exitCode, 2);
}

TEST(ToolSheet, WritesMusicXmlPlainAndCompressed) {
    const Sandbox sandbox;
    const json told = answered(sandbox.run({"sheet", "-o", "daily.musicxml", "--bpm", "60", "--json"}));
    EXPECT_EQ(told.at("rungs"), 3);
    ASSERT_EQ(sandbox.run({"sheet", "-o", "daily.mxl", "--bpm", "60"}).exitCode, 0);
    const Result<MusicXmlFile> plain = MusicXmlFile::readFile(sandbox.file("daily.musicxml"));
    const Result<MusicXmlFile> zipped = MusicXmlFile::readFile(sandbox.file("daily.mxl"));
    ASSERT_TRUE(plain && zipped);
    EXPECT_EQ(plain.value().part({}).value(), zipped.value().part({}).value());
    EXPECT_EQ(plain.value().part({}).value().notes.size(), told.at("notes").get<std::size_t>());
    const std::string text = sandbox.run({"sheet", "-o", "-", "--bpm", "60", "--no-fingerings"}).out;
    EXPECT_EQ(text.find("<fingering"), std::string::npos);
    EXPECT_NE(text.find("<breath-mark"), std::string::npos);
}

TEST(ToolBacking, WritesALoopOfWholeBarsAndSteppedSets) {
    const Sandbox sandbox;
    const json loop = answered(sandbox.run({"backing", "-o", "loop.mid", "--bpm", "60", "--json"}))["loops"];
    ASSERT_EQ(loop.size(), 1U);
    EXPECT_EQ(loop[0]["quarters"].get<double>(), loop[0]["bars"].get<double>() * 4.0);
    const json set = answered(sandbox.run({"backing", "-o", "set.mid", "--bpm", "60", "--takes", "3",
                                           "--step", "2", "--pad", "--bass", "--drums", "--json"}))["loops"];
    ASSERT_EQ(set.size(), 3U);
    EXPECT_EQ(set[2]["bpm"], 64.0);
    const Result<SmfFile> file = readSmf(bytesOf(sandbox.read("set.mid")));
    ASSERT_TRUE(file);
    EXPECT_EQ(file.value().tracks.size(), 6U);
    EXPECT_EQ(sandbox.run({"backing", "-o", "x.mid", "--no-click", "--no-drone"}).exitCode, 1);
    EXPECT_EQ(sandbox.run({"backing", "-o", "x.mid", "--drone-channel", "17"}).exitCode, 2);
}

} // namespace valveladder
