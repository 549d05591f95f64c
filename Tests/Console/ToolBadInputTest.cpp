#include "RunTool.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <filesystem>

namespace valveladder {

using consoletest::Ran;
using consoletest::Sandbox;
using Json = nlohmann::json;

namespace {

/// A problem: code 1, one message that holds `parts`, no output, no crash.
void expectProblem(const Ran& run, const std::vector<std::string>& parts) {
    EXPECT_EQ(run.exitCode, 1) << run.err << run.out;
    EXPECT_EQ(run.signal, 0);
    EXPECT_EQ(run.out, "");
    EXPECT_TRUE(run.err.starts_with("valve-ladder: ")) << run.err;
    for (const std::string& part : parts)
        EXPECT_NE(run.err.find(part), std::string::npos) << "'" << part << "' is not in: " << run.err;
}

/// The default drill's file with `change` made to its JSON.
template <typename Change>
void writeDrill(const Sandbox& sandbox, const std::string& name, Change change) {
    Json drill = Json::parse(sandbox.run({"drill", "make"}).out);
    change(drill);
    sandbox.write(name, drill.dump());
}

void keepOne(const Sandbox& sandbox) {
    ASSERT_EQ(sandbox.run({"guide", "-o", "guide.mid", "--bpm", "60"}).exitCode, 0);
    ASSERT_EQ(sandbox.run({"assess", "guide.mid", "--keep", "-p", "Ann", "--played-at", "2026-03-27T17:00Z"})
                  .exitCode,
              0);
}

std::vector<std::string> keepAnother() {
    return {"assess", "guide.mid", "--keep", "-p", "Ann", "--played-at", "2026-03-28T17:00Z"};
}

} // namespace

TEST(ToolBadDrill, OutOfTheInstrumentsRangeNamesNoteAndRange) {
    const Sandbox sandbox;
    expectProblem(sandbox.run({"drill", "check", "--foot", "C1"}), {"C1 (written) cannot be played", "F#3"});
    expectProblem(sandbox.run({"guide", "-o", "x.mid", "--bpm", "60", "--last-top", "C7"}),
                  {"cannot be played"});
    EXPECT_FALSE(std::filesystem::exists(sandbox.file("x.mid")));
}

TEST(ToolBadDrill, UpsideDownLadderIsRefused) {
    const Sandbox sandbox;
    expectProblem(sandbox.run({"drill", "make", "--top", "F#3"}), {"first top must lie above the foot"});
    expectProblem(sandbox.run({"drill", "make", "--last-top", "B3"}), {"last top"});
}

TEST(ToolBadDrill, TenThousandRungsAreRefusedAtOnce) {
    const Sandbox sandbox;
    std::string cells = "C4 D4";
    for (int i = 1; i < 10000; ++i)
        cells += ";C4 D4";
    expectProblem(sandbox.run({"drill", "check", "--cells", cells}), {"10000 cells", "512"});
}

TEST(ToolBadDrill, ZeroLengthAndEmptinessAreRefused) {
    const Sandbox sandbox;
    expectProblem(sandbox.run({"drill", "make", "--cells", ";"}),
                  {"drill.pattern.cells[0]", "2 to 128 notes"});
    expectProblem(sandbox.run({"drill", "make", "--repeats", "0"}), {"repeats must be 1 to 32"});
    expectProblem(sandbox.run({"drill", "make", "--ratio", "0:1"}), {"share"});
    expectProblem(sandbox.run({"drill", "make", "--segments", "0"}), {"no segment 0", "1 to 4"});
    expectProblem(sandbox.run({"drill", "make", "--meter", "0/4"}), {"meter"});
    expectProblem(sandbox.run({"drill", "make", "--count-in", "-1"}), {"count-in"});
    expectProblem(sandbox.run({"drill", "make", "--rest", "-2b"}), {"rest"});
    expectProblem(sandbox.run({"drill", "make", "--breath", "nan"}), {"breath"});
    writeDrill(sandbox, "zero.json", [](Json& drill) { drill["noteTicks"] = 0; });
    expectProblem(sandbox.run({"drill", "check", "-d", "zero.json"}), {"zero.json", "note value"});
    writeDrill(sandbox, "none.json", [](Json& drill) { drill["segments"] = Json::array(); });
    expectProblem(sandbox.run({"drill", "check", "-d", "none.json"}), {"none.json", "1 to 16 segments"});
}

TEST(ToolBadDrill, FileThatIsNoDrillSaysWhereAndWhat) {
    const Sandbox sandbox;
    sandbox.write("text.json", "not JSON at all");
    sandbox.write("empty.json", "");
    sandbox.write("list.json", "[1, 2, 3]");
    sandbox.write("deep.json", std::string(200'000, '['));
    for (const std::string name : {"text.json", "empty.json", "list.json", "deep.json"})
        expectProblem(sandbox.run({"drill", "check", "-d", name}),
                      {": " + name + ": the text is damaged, or not one of Valve Ladder's: "});
    expectProblem(sandbox.run({"drill", "check", "-d", "text.json"}),
                  {"it is not JSON (byte 2). Use a whole"});
    writeDrill(sandbox, "newer.json", [](Json& drill) { drill["version"] = 999; });
    expectProblem(sandbox.run({"drill", "check", "-d", "newer.json"}), {"newer.json"});
    writeDrill(sandbox, "type.json", [](Json& drill) { drill["repeats"] = "three"; });
    expectProblem(sandbox.run({"drill", "check", "-d", "type.json"}), {"type.json", "repeats"});
    for (const std::vector<std::string>& command :
         std::vector<std::vector<std::string>>{{"drill", "check", "-d", "absent.json"},
                                               {"drill", "show", "absent.json"},
                                               {"plan", "-d", "absent.json"}})
        expectProblem(sandbox.run(command), {"absent.json: there is no such file", "mark --drill"});
    expectProblem(sandbox.run({"drill", "check", "-d", "/"}), {"/"});
}

TEST(ToolBadDrill, FingeringByHandThatDoesNotSoundIsRefused) {
    const Sandbox sandbox;
    expectProblem(sandbox.run({"drill", "make", "--use", "E4=2"}), {"does not sound E4"});
}

TEST(ToolBadInstrument, UnknownIdPointsToTheList) {
    const Sandbox sandbox;
    expectProblem(sandbox.run({"fingering", "C4", "-i", "kazoo"}), {"kazoo", "valve-ladder instruments"});
    sandbox.write("mine.json", "{\"format\": 3}");
    expectProblem(sandbox.run({"fingering", "C4", "-i", "mine.json"}), {"mine.json"});
    expectProblem(sandbox.run({"fingering", "Cis"}), {"not a pitch", "Cis"});
}

TEST(ToolBadTempo, AbsurdTemposAreProblemsWithTheirLimits) {
    const Sandbox sandbox;
    for (const char* bpm : {"0", "1000", "-60", "nan", "inf", "1e308", "9.99", "400.01"}) {
        expectProblem(sandbox.run({"guide", "-o", "x.mid", "--bpm", bpm}), {"10 to 400"});
        EXPECT_FALSE(std::filesystem::exists(sandbox.file("x.mid"))) << bpm;
    }
    expectProblem(sandbox.run({"session", "-o", "x.mid", "--bpm", "395", "--takes", "9"}),
                  {"take 7", "10 to 400"});
    expectProblem(sandbox.run({"session", "-o", "x.mid", "--bpm", "60", "--takes", "0"}),
                  {"--takes", "1 to 200"});
    expectProblem(sandbox.run({"session", "-o", "x.mid", "--bpm", "60", "--takes", "1000000"}), {"--takes"});
    expectProblem(sandbox.run({"session", "-o", "x.mid", "--bpm", "60", "--step", "nan"}), {"--step"});
    expectProblem(sandbox.run({"session", "-o", "x.mid", "--bpm", "60", "--ceiling", "nan"}), {"--ceiling"});
}

TEST(ToolBadPlan, RulesOutOfRangeAndUnknownZonesAreNamed) {
    const Sandbox sandbox;
    expectProblem(sandbox.run({"plan", "--start", "1000"}), {"start tempo", "10 to 400"});
    expectProblem(sandbox.run({"plan", "--ceiling", "50"}), {"ceiling", "below the start"});
    expectProblem(sandbox.run({"plan", "--zone", "Middle/Earth"}), {"Middle/Earth", "Europe/Berlin"});
    expectProblem(sandbox.run({"plan", "--at", "yesterday"}), {"yesterday", "2026-03-28"});
    expectProblem(sandbox.run({"plan", "--save"}), {"--player"});
}

TEST(ToolBadPlan, RestsThatTheReminderCannotKeepAreNamed) {
    const Sandbox sandbox;
    for (const std::vector<std::string>& given : std::vector<std::vector<std::string>>{
             {"--rest-after", "100000"}, {"--rest-after", "0"}, {"--rest", "0"}, {"--rest", "nan"}}) {
        std::vector<std::string> command{"next"};
        command.insert(command.end(), given.begin(), given.end());
        expectProblem(sandbox.run(command), {"--rest-after, --rest", "1 to 180 minutes", "1 to 60 of rest"});
    }
}

TEST(ToolBadRecording, FilesThatAreNoMidiFileAreRefusedWithTheirName) {
    const Sandbox sandbox;
    ASSERT_EQ(sandbox.run({"guide", "-o", "guide.mid", "--bpm", "60"}).exitCode, 0);
    const std::string whole = sandbox.read("guide.mid");
    sandbox.write("text.mid", "This is a text.");
    sandbox.write("empty.mid", "");
    sandbox.write("wave.mid", std::string("RIFF\x24\0\0\0WAVEfmt ", 16));
    sandbox.write("cut.mid", whole.substr(0, whole.size() / 2));
    std::string smpte = whole;
    smpte[12] = static_cast<char>(0xE7); // division: -25 frames a second
    sandbox.write("smpte.mid", smpte);
    for (const std::string name : {"text.mid", "empty.mid", "wave.mid"})
        expectProblem(
            sandbox.run({"assess", name}),
            {": " + name + ": the file is damaged, or of another kind", ".mid", ".wav", "export it again"});
    expectProblem(sandbox.run({"assess", "cut.mid"}), {": cut.mid: the MIDI file is damaged: ", " (byte "});
    for (const char* name : {"smpte.mid", "absent.mid"})
        expectProblem(sandbox.run({"assess", name}), {name});
    std::filesystem::create_directory(sandbox.file("nothing"));
    expectProblem(sandbox.run({"assess", "nothing"}), {"nothing", "no take"});
    expectProblem(sandbox.run({"assess", "/dev/zero"}), {"/dev/zero"});
}

TEST(ToolBadPart, BrokenFilesSayWhatTheyAreAndWhichKindsAreRead) {
    const Sandbox sandbox;
    ASSERT_EQ(sandbox.run({"guide", "-o", "guide.mid", "--bpm", "60"}).exitCode, 0);
    const std::string cut = sandbox.read("guide.mid").substr(0, 200);
    struct Broken {
        std::string name, content, said;
        bool ofOtherKind;
    };
    const std::vector<Broken> all{
        {"notes.mid", "these are no notes", "of another kind than its name says: it is not a Standard MIDI",
         true},
        {"empty.mid", "", "the file is empty, and so not a Standard MIDI File", true},
        {"zipped.mid", "PK\3\4 and so on", "of another kind than its name says: it is not a Standard MIDI",
         true},
        {"picture.musicxml", "\x89PNG\r\n", "than its name says: this is neither a MusicXML nor a MIDI file",
         true},
        {"empty.xml", "", "the file is empty: this is neither a MusicXML nor a MIDI file", true},
        {"cut.mid", cut, "the MIDI file is damaged: ", false},
        {"page.musicxml", "<html/>", "the file cannot be read as MusicXML: ", false},
        {"cut.mxl", "PK\3\4 and so on", "the file cannot be read as MusicXML: the compressed file is damaged",
         false}};
    for (const Broken& broken : all) {
        sandbox.write(broken.name, broken.content);
        const Ran run = sandbox.run({"mark", broken.name});
        expectProblem(run, {"valve-ladder: " + broken.name + ": ", broken.said});
        EXPECT_EQ(run.err.find("MThd"), std::string::npos) << run.err;
        EXPECT_EQ(run.err.find(".musicxml, .xml, .mxl") != std::string::npos, broken.ofOtherKind) << run.err;
    }
}

TEST(ToolBadRecording, SilenceAndWrongPlacesAreSaid) {
    const Sandbox sandbox;
    ASSERT_EQ(sandbox.run({"guide", "-o", "guide.mid", "--bpm", "60"}).exitCode, 0);
    ASSERT_EQ(sandbox.run({"guide", "-o", "silent.mid", "--bpm", "60", "--no-notes"}).exitCode, 0);
    expectProblem(sandbox.run({"assess", "silent.mid"}), {"no note is played", "--channel"});
    expectProblem(sandbox.run({"assess", "guide.mid", "--start", "100000"}),
                  {"no note is played", "--start"});
    expectProblem(sandbox.run({"assess", "guide.mid", "--start", "inf"}), {"--start"});
    expectProblem(sandbox.run({"assess", "guide.mid", "--channel", "17"}), {"17", "1 to 16"});
    expectProblem(sandbox.run({"assess", "guide.mid", "--bpm", "1000"}), {"--bpm"});
    for (const char* ms : {"nan", "-1000.5", "1500"})
        expectProblem(sandbox.run({"assess", "guide.mid", "--round-trip", ms}),
                      {"--round-trip", "-1000 to 1000 ms"});
    expectProblem(sandbox.run({"assess", "guide.mid", "--keep"}), {"--player"});
    expectProblem(sandbox.run({"guide", "-o", "x.mid", "--bpm", "60", "--note-channel", "0"}),
                  {"--note-channel"});
}

TEST(ToolBadOutput, PlacesThatCannotBeWrittenAreNamed) {
    const Sandbox sandbox;
    for (const char* place : {"nowhere/x.mid", "/proc/x.mid", ".", "/dev/full"})
        expectProblem(sandbox.run({"guide", "-o", place, "--bpm", "60"}), {place});
    EXPECT_TRUE(std::filesystem::is_character_file("/dev/full"));
}

TEST(ToolBadOutput, FullDiskBehindStandardOutputIsAProblem) {
    const Sandbox sandbox;
    for (const char* command :
         {"drill make", "instruments", "guide -o - --bpm 60", "--help", "plan --json"}) {
        const Ran run = sandbox.shell(std::string("exec \"$TOOL\" ") + command + " > /dev/full");
        EXPECT_EQ(run.exitCode, 1) << command;
        EXPECT_NE(run.err.find("standard output"), std::string::npos) << run.err;
    }
}

TEST(ToolBadOutput, FullDiskLeavesTheOlderFileWhole) {
    const Sandbox sandbox;
    ASSERT_EQ(sandbox.run({"guide", "-o", "g.mid", "--bpm", "60"}).exitCode, 0);
    const std::string before = sandbox.read("g.mid");
    // A file size limit of one 512-byte block fails writes as a full disk does.
    const Ran run = sandbox.shell("trap '' XFSZ; ulimit -f 1; exec \"$TOOL\" guide -o g.mid --bpm 90 2> err");
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_NE(sandbox.read("err").find("g.mid"), std::string::npos) << sandbox.read("err");
    EXPECT_EQ(sandbox.read("g.mid"), before);
}

TEST(ToolBadOutput, StandardErrorThatIsGoneChangesNothing) {
    const Sandbox sandbox;
    EXPECT_EQ(sandbox.shell("exec \"$TOOL\" guide -o - --bpm 0 2> /dev/full").exitCode, 1);
    EXPECT_EQ(sandbox.shell("exec \"$TOOL\" drill check --repeats 32 --bpm 30 2>&-").exitCode, 0);
}

TEST(ToolBadLog, AbsentLogIsNotMade) {
    const Sandbox sandbox;
    for (const std::vector<std::string>& command :
         std::vector<std::vector<std::string>>{{"take", "list"},
                                               {"take", "show", "1"},
                                               {"take", "note", "1", "x"},
                                               {"log", "info"},
                                               {"log", "export"},
                                               {"log", "check"},
                                               {"log", "recover"}})
        expectProblem(sandbox.run(command), {"log.sqlite", "no log yet"});
    expectProblem(sandbox.run({"log", "merge", "other.sqlite"}), {"other.sqlite"});
    EXPECT_FALSE(std::filesystem::exists(sandbox.log()));
}

TEST(ToolBadLog, UnknownTakeIsNamed) {
    const Sandbox sandbox;
    keepOne(sandbox);
    expectProblem(sandbox.run({"take", "show", "zzzz"}), {"zzzz"});
    expectProblem(sandbox.run({"take", "note", "zzzz", "x"}), {"zzzz"});
    expectProblem(sandbox.run({"log", "merge", sandbox.log().string()}), {"into itself"});
}

TEST(ToolBadLog, LockedLogIsSaidAndLeftAsItWas) {
    const Sandbox sandbox;
    keepOne(sandbox);
    {
        SQLite::Database other(sandbox.log().string(), SQLite::OPEN_READWRITE);
        other.exec("BEGIN IMMEDIATE");
        expectProblem(sandbox.run(keepAnother()), {sandbox.log().string()});
        expectProblem(sandbox.run({"plan", "-p", "Ann", "--start", "70", "--save"}),
                      {sandbox.log().string()});
        EXPECT_EQ(sandbox.run({"take", "list"}).exitCode, 0) << "a writer must not keep readers out";
        other.exec("ROLLBACK");
    }
    EXPECT_EQ(Json::parse(sandbox.run({"take", "list", "--json"}).out).size(), 1u);
    EXPECT_EQ(sandbox.run(keepAnother()).exitCode, 0);
}

TEST(ToolBadLog, CorruptNewerAndAlienLogsAreRefusedAndLeftAlone) {
    const Sandbox sandbox;
    keepOne(sandbox);
    const auto expectRefused = [&](const std::string& content) {
        sandbox.write("bad.sqlite", content);
        expectProblem(sandbox.run({"take", "list", "--log", "bad.sqlite"}), {"bad.sqlite"});
        std::vector<std::string> keep = keepAnother();
        keep.insert(keep.end(), {"--log", "bad.sqlite"});
        expectProblem(sandbox.run(keep), {"bad.sqlite"});
        EXPECT_EQ(sandbox.read("bad.sqlite"), content);
    };
    expectRefused("This is not a database, though it has quite some length to it. " + std::string(4096, 'x'));
    std::string newer = sandbox.read("log.sqlite");
    newer[63] = 99; // user_version, big-endian at offset 60 of the SQLite header
    expectRefused(newer);
}

TEST(ToolBadLog, FolderInPlaceOfALogIsAProblem) {
    const Sandbox sandbox;
    expectProblem(sandbox.run({"take", "list", "--log", "."}), {"."});
    expectProblem(sandbox.run({"plan", "--player", "Ann", "--save", "--log", "/proc/none/log.sqlite"}),
                  {"/proc/none"});
}

TEST(ToolBadLog, FullDiskWhileKeepingLosesNothingThatWasKept) {
    const Sandbox sandbox;
    keepOne(sandbox);
    const Ran run = sandbox.shell("trap '' XFSZ; ulimit -f 8; exec \"$TOOL\" assess guide.mid --keep -p Ann "
                                  "--played-at 2026-03-28T17:00Z 2> err");
    EXPECT_EQ(run.exitCode, 1) << run.out;
    EXPECT_NE(sandbox.read("err").find("log.sqlite"), std::string::npos) << sandbox.read("err");
    EXPECT_EQ(Json::parse(sandbox.run({"take", "list", "--json"}).out).size(), 1u);
    EXPECT_EQ(sandbox.run({"log", "check"}).exitCode, 0);
}

TEST(ToolBadText, BytesThatAreNotUtf8DoNotBreakJson) {
    const Sandbox sandbox;
    const Ran run = sandbox.run({"drill", "check", "--name", "caf\xE9 \xFF", "--json"});
    EXPECT_EQ(run.signal, 0);
    if (run.exitCode == 0) {
        EXPECT_TRUE(Json::accept(run.out)) << run.out;
    }
    const Ran made = sandbox.run({"drill", "make", "--name", "caf\xE9 \xFF"});
    EXPECT_EQ(made.signal, 0);
    EXPECT_EQ(made.err.find("should not happen"), std::string::npos) << made.err;
}

TEST(ToolBadText, ProblemsAreJsonForPrograms) {
    const Sandbox sandbox;
    const Ran run = sandbox.run({"assess", "absent.mid", "--json"});
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_EQ(run.out, "");
    const Json problem = Json::parse(run.err).at("problem");
    EXPECT_EQ(problem.at("where"), "absent.mid");
    EXPECT_FALSE(problem.at("what").get<std::string>().empty());
    EXPECT_FALSE(problem.at("remedy").get<std::string>().empty());
}

} // namespace valveladder
