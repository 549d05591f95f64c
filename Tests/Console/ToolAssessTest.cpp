#include "Recording.h"
#include "RunTool.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

namespace valveladder {

using consoletest::linesOver;
using consoletest::Ran;
using consoletest::Recording;
using consoletest::Sandbox;
using Json = nlohmann::json;

namespace {

Json jsonOf(const Ran& run) {
    EXPECT_EQ(run.exitCode, 0) << run.err;
    return Json::parse(run.out);
}

/// A sandbox with the guide at 60 as guide.mid: played back, a take without fault.
void writeGuide(const Sandbox& sandbox, const std::string& bpm = "60") {
    ASSERT_EQ(sandbox.run({"guide", "-o", "guide.mid", "--bpm", bpm}).exitCode, 0);
}

/// `file` kept as a take of Ann's at `time`.
Ran keep(const Sandbox& sandbox, const std::string& file, const std::string& time) {
    return sandbox.run({"assess", file, "--keep", "--player", "Ann", "--played-at", time});
}

Json list(const Sandbox& sandbox) {
    return jsonOf(sandbox.run({"take", "list", "--json"}));
}

} // namespace

TEST(ToolAssess, GuidePlayedBackIsRightThroughout) {
    const Sandbox sandbox;
    writeGuide(sandbox);
    const Ran run = sandbox.run({"assess", "guide.mid"});
    ASSERT_EQ(run.exitCode, 0) << run.err;
    EXPECT_EQ(linesOver(run.out, 80), std::vector<std::string>());
    EXPECT_NE(run.out.find(": passed"), std::string::npos) << run.out;
    EXPECT_EQ(run.out.find("Not right"), std::string::npos) << run.out;
    EXPECT_FALSE(std::filesystem::exists(sandbox.log()));
    const Json take = jsonOf(sandbox.run({"assess", "guide.mid", "--json"})).at("take");
    EXPECT_EQ(take.at("passed"), true);
    EXPECT_NEAR(take.at("playedBpm").get<double>(), 60.0, 1e-3);
}

TEST(ToolAssess, WrongAndMissedNotesAreNamedWhereTheyWere) {
    const Sandbox sandbox;
    writeGuide(sandbox);
    Recording recording(sandbox, "guide.mid");
    recording.shift(2, 1);
    recording.drop(14);
    recording.save(sandbox, "take.mid");
    const Ran run = sandbox.run({"assess", "take.mid"});
    EXPECT_NE(run.out.find("F#3-C4, Even, firm, note 3: G#3 (2-3) expected, A3 heard"), std::string::npos)
        << run.out;
    EXPECT_NE(run.out.find("F#3-C4, Long-short, firm, note 2: G3 (1-3) missed"), std::string::npos)
        << run.out;
    EXPECT_NE(run.out.find(": not passed"), std::string::npos) << run.out;
}

TEST(ToolAssess, SplitNotesAreNamedOnceWithHowTheySpoke) {
    const Sandbox sandbox;
    writeGuide(sandbox);
    Recording recording(sandbox, "guide.mid");
    recording.strikeTwice(14, 0.4, 0.5);
    recording.speakThrough(2, 5, 0.1);
    recording.save(sandbox, "take.mid");
    const Ran run = sandbox.run({"assess", "take.mid"});
    EXPECT_NE(run.out.find("F#3-C4, Even, firm, note 3: G#3 (2-3) spoke through C#4"), std::string::npos)
        << run.out;
    EXPECT_NE(run.out.find("F#3-C4, Long-short, firm, note 2: G3 (1-3) spoke twice"), std::string::npos)
        << run.out;
    EXPECT_EQ(run.out.find("heard besides"), std::string::npos) << run.out;
}

TEST(ToolAssess, RecordingThatStopsEarlyIsCutShortAndTheRestNotMissed) {
    const Sandbox sandbox;
    writeGuide(sandbox);
    Recording recording(sandbox, "guide.mid");
    recording.cutBefore(30);
    recording.save(sandbox, "take.mid");
    const Ran run = sandbox.run({"assess", "take.mid"});
    EXPECT_NE(run.out.find(": cut short"), std::string::npos) << run.out;
    EXPECT_EQ(run.out.find("missed\n  "), std::string::npos) << run.out;
}

TEST(ToolAssess, TakeInsideASessionIsFoundByItsStart) {
    const Sandbox sandbox;
    const Json session = jsonOf(
        sandbox.run({"session", "-o", "s.mid", "--bpm", "60", "--takes", "3", "--step", "3", "--json"}));
    const double start = session.at("takes")[1].at("startQuarter");
    const Json take =
        jsonOf(sandbox.run({"assess", "s.mid", "--start", std::to_string(start), "--json"})).at("take");
    EXPECT_EQ(take.at("passed"), true);
    EXPECT_NEAR(take.at("playedBpm").get<double>(), 63.0, 1e-3);
}

TEST(ToolAssess, AFoldersTakesAreFoundByNamesInCapitalsAsWell) {
    const Sandbox sandbox;
    writeGuide(sandbox);
    std::filesystem::create_directory(sandbox.file("takes"));
    for (const char* name : {"1.MIDI", "2.Mid", "3.SMF", "4.mid"})
        std::filesystem::copy_file(sandbox.file("guide.mid"), sandbox.file("takes") / name);
    const Json all = jsonOf(sandbox.run({"assess", "takes", "--json"}));
    ASSERT_EQ(all.size(), 4U);
    for (const Json& file : all)
        EXPECT_EQ(file.at("take").at("passed"), true) << file.at("file");
}

TEST(ToolAssess, TempoGivenGoesBeforeTheFilesOwn) {
    const Sandbox sandbox;
    writeGuide(sandbox, "60");
    const Json take = jsonOf(sandbox.run({"assess", "guide.mid", "--bpm", "90", "--json"})).at("take");
    EXPECT_NEAR(take.at("playedBpm").get<double>(), 90.0, 1e-9);
    EXPECT_EQ(take.at("passed"), false);
}

TEST(ToolTake, KeptTakeIsListedShownAnnotatedAndPlanned) {
    const Sandbox sandbox;
    writeGuide(sandbox);
    const Ran kept = keep(sandbox, "guide.mid", "2026-03-27T17:00Z");
    ASSERT_EQ(kept.exitCode, 0) << kept.err;
    EXPECT_NE(kept.out.find("Kept in the log."), std::string::npos);

    const Json takes = list(sandbox);
    ASSERT_EQ(takes.size(), 1u);
    EXPECT_EQ(takes[0].at("player"), "Ann");
    EXPECT_EQ(takes[0].at("result"), "passed");
    EXPECT_EQ(takes[0].at("started"), "2026-03-27T17:00:00.000Z");
    EXPECT_EQ(takes[0].at("plannedBpm"), 60.0);
    const std::string id = takes[0].at("id");

    ASSERT_EQ(sandbox.run({"take", "note", id.substr(0, 8), "third finger lazy"}).exitCode, 0);
    const Ran shown = sandbox.run({"take", "show", id.substr(0, 8)});
    EXPECT_NE(shown.out.find("Note: third finger lazy"), std::string::npos) << shown.out;
    EXPECT_NE(shown.out.find("13/13"), std::string::npos) << shown.out;
    EXPECT_TRUE(shown.out.starts_with("Take 1\n")) << shown.out;
    EXPECT_TRUE(kept.out.starts_with("Take 1\n")) << kept.out;
    EXPECT_EQ(sandbox.run({"take", "note", "1", "x"}).out, "Take 1: noted\n");
    EXPECT_TRUE(sandbox.run({"assess", "guide.mid"}).out.starts_with("Take of guide.mid\n"));
    EXPECT_EQ(linesOver(shown.out, 80), std::vector<std::string>());
    EXPECT_EQ(linesOver(sandbox.run({"take", "list"}).out, 80), std::vector<std::string>());

    const Json plan = jsonOf(sandbox.run({"plan", "--at", "2026-03-28T09:00Z", "--json"}));
    EXPECT_EQ(plan.at("bpm"), 62.0);
    EXPECT_EQ(plan.at("reason"), "new-day-up");
    EXPECT_EQ(plan.at("player"), "Ann");
}

TEST(ToolTake, SameRecordingIsNotKeptTwice) {
    const Sandbox sandbox;
    writeGuide(sandbox);
    ASSERT_EQ(keep(sandbox, "guide.mid", "2026-03-27T17:00Z").exitCode, 0);
    const Ran again = keep(sandbox, "guide.mid", "2026-03-27T17:00Z");
    EXPECT_EQ(again.exitCode, 1);
    EXPECT_NE(again.err.find("in the log already: take 1"), std::string::npos) << again.err;
    EXPECT_EQ(list(sandbox).size(), 1u);
}

TEST(ToolTake, FiltersByPlayerTimeAndNumber) {
    const Sandbox sandbox;
    writeGuide(sandbox);
    ASSERT_EQ(keep(sandbox, "guide.mid", "2026-03-27T17:00Z").exitCode, 0);
    ASSERT_EQ(keep(sandbox, "guide.mid", "2026-03-28T17:00Z").exitCode, 0);
    const auto count = [&](std::vector<std::string> arguments) {
        arguments.insert(arguments.begin(), {"take", "list", "--json"});
        return jsonOf(sandbox.run(arguments)).size();
    };
    EXPECT_EQ(count({}), 2u);
    EXPECT_EQ(count({"--player", "Ben"}), 0u);
    EXPECT_EQ(count({"--from", "2026-03-28"}), 1u);
    EXPECT_EQ(count({"--to", "2026-03-28"}), 1u);
    EXPECT_EQ(count({"--newest", "1"}), 1u);
}

TEST(ToolLog, ExportsJsonAndCsv) {
    const Sandbox sandbox;
    writeGuide(sandbox);
    ASSERT_EQ(keep(sandbox, "guide.mid", "2026-03-27T17:00Z").exitCode, 0);
    EXPECT_NO_THROW(static_cast<void>(jsonOf(sandbox.run({"log", "export"}))));
    ASSERT_EQ(sandbox.run({"log", "export", "-o", "takes.json"}).exitCode, 0);
    EXPECT_EQ(Json::parse(sandbox.read("takes.json")), jsonOf(sandbox.run({"log", "export"})));
    ASSERT_EQ(sandbox.run({"log", "export", "--csv", "csv"}).exitCode, 0);
    for (const char* name : {"takes.csv", "notes.csv", "changes.csv", "segments.csv"})
        EXPECT_NE(sandbox.read(std::string("csv/") + name).find('\n'), std::string::npos) << name;
}

TEST(ToolLog, MergesAnotherMachinesTakesOnce) {
    const Sandbox here;
    const Sandbox there;
    writeGuide(here);
    writeGuide(there);
    ASSERT_EQ(keep(here, "guide.mid", "2026-03-27T17:00Z").exitCode, 0);
    ASSERT_EQ(keep(there, "guide.mid", "2026-03-28T17:00Z").exitCode, 0);
    const std::vector<std::string> merge = {"log", "merge", there.log().string(), "--json"};
    EXPECT_EQ(jsonOf(here.run(merge)).at("added"), 1);
    EXPECT_EQ(jsonOf(here.run(merge)).at("added"), 0);
    EXPECT_EQ(list(here).size(), 2u);
    EXPECT_EQ(list(there).size(), 1u);
}

TEST(ToolLog, InfoAndCheckSayWhatThereIs) {
    const Sandbox sandbox;
    writeGuide(sandbox);
    ASSERT_EQ(keep(sandbox, "guide.mid", "2026-03-27T17:00Z").exitCode, 0);
    const Json info = jsonOf(sandbox.run({"log", "info", "--json"}));
    EXPECT_EQ(info.at("takes"), 1);
    EXPECT_EQ(info.at("players").at("Ann"), 1);
    EXPECT_NE(sandbox.run({"log", "info"}).out.find(", 1 take\n"), std::string::npos);
    EXPECT_EQ(jsonOf(sandbox.run({"log", "check", "--json"})).at("sound"), true);
    EXPECT_EQ(jsonOf(sandbox.run({"log", "recover", "--json"})).at("recovered"), 0);
}

TEST(ToolPlan, WithoutALogIsTheStartAndMakesNone) {
    const Sandbox sandbox;
    const Json plan = jsonOf(sandbox.run({"plan", "--json"}));
    EXPECT_EQ(plan.at("bpm"), 60.0);
    EXPECT_EQ(plan.at("reason"), "start");
    EXPECT_FALSE(std::filesystem::exists(sandbox.log()));
    EXPECT_EQ(linesOver(sandbox.run({"plan"}).out, 80), std::vector<std::string>());
}

TEST(ToolPlan, WithoutTakesItSaysWhatTheLogHoldsInstead) {
    const Sandbox sandbox;
    const auto whyStart = [&](std::vector<std::string> arguments) {
        arguments.insert(arguments.begin(), {"plan", "--json"});
        const Json why = jsonOf(sandbox.run(arguments)).at("whyStart");
        return why.is_null() ? std::string() : why.get<std::string>();
    };
    EXPECT_NE(whyStart({}).find("There is no log yet at"), std::string::npos);
    ASSERT_EQ(
        sandbox.run({"drill", "make", "--name", "Short", "--segments", "1", "-o", "short.json"}).exitCode, 0);
    ASSERT_EQ(sandbox.run({"guide", "-d", "short.json", "-o", "short.mid", "--bpm", "60"}).exitCode, 0);
    ASSERT_EQ(sandbox
                  .run({"assess", "short.mid", "-d", "short.json", "--keep", "--invented", "--player", "Ina",
                        "--played-at", "2026-03-27T17:00Z"})
                  .exitCode,
              0);
    const std::string ofOtherDrill = whyStart({"--player", "Ina"});
    EXPECT_NE(ofOtherDrill.find("holds of Ina: 'Short' on trumpet-b-flat (1 take, invented)"),
              std::string::npos)
        << ofOtherDrill;
    EXPECT_NE(ofOtherDrill.find("--drill or --name"), std::string::npos) << ofOtherDrill;
    const std::string ofNobody = whyStart({"--player", "Ann"});
    EXPECT_NE(ofNobody.find("holds no take of Ann, but of Ina on trumpet-b-flat"), std::string::npos)
        << ofNobody;
    EXPECT_NE(ofNobody.find("--log"), std::string::npos) << ofNobody;
    EXPECT_NE(whyStart({"-d", "short.json", "--at", "2026-03-26"}).find("before that time"),
              std::string::npos);
    EXPECT_EQ(whyStart({"--player", "Ina", "-d", "short.json"}), "");
    EXPECT_EQ(whyStart({"--player", "Ina", "--name", "Short"}), "");
    const Ran text = sandbox.run({"plan", "--player", "Ina"});
    EXPECT_NE(text.out.find("No take of this drill on this instrument yet."), std::string::npos) << text.out;
    EXPECT_EQ(linesOver(text.out, 80), std::vector<std::string>());
}

TEST(ToolPlan, InventedTakesCountOnlyWhereThereAreNoRealOnes) {
    const Sandbox sandbox;
    writeGuide(sandbox);
    const auto keepInvented = [&](const std::string& player, const std::string& time) {
        return sandbox
            .run({"assess", "guide.mid", "--keep", "--invented", "--player", player, "--played-at", time})
            .exitCode;
    };
    const auto bpm = [&](const std::string& player) {
        return jsonOf(sandbox.run({"plan", "--player", player, "--at", "2026-03-30T09:00Z", "--json"}))
            .at("bpm")
            .get<double>();
    };
    ASSERT_EQ(keepInvented("Ina", "2026-03-27T17:00Z"), 0);
    EXPECT_EQ(bpm("Ina"), 62.0);
    ASSERT_EQ(keep(sandbox, "guide.mid", "2026-03-27T17:00Z").exitCode, 0);
    writeGuide(sandbox, "62");
    ASSERT_EQ(keepInvented("Ann", "2026-03-28T17:00Z"), 0);
    EXPECT_EQ(bpm("Ann"), 62.0) << "the invented take of the second day is not Ann's";
}

TEST(ToolTake, TakesThatCannotBeComparedAreNamedByTheirNumber) {
    const Sandbox sandbox;
    writeGuide(sandbox);
    ASSERT_EQ(keep(sandbox, "guide.mid", "2026-03-27T17:00Z").exitCode, 0);
    ASSERT_EQ(sandbox
                  .run({"assess", "guide.mid", "--foot", "G3", "--keep", "--player", "Ann", "--played-at",
                        "2026-03-28T17:00Z"})
                  .exitCode,
              0);
    const Ran run = sandbox.run({"compare", "1", "2"});
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_NE(run.err.find("take 2, 2026-03-28 17:00: this take asks for other notes"), std::string::npos)
        << run.err;
}

TEST(ToolPlan, SavedRulesHoldForThatPlayerAndNoOther) {
    const Sandbox sandbox;
    ASSERT_EQ(sandbox.run({"plan", "--player", "Ann", "--start", "56", "--step-day", "1", "--save"}).exitCode,
              0);
    const Json saved = jsonOf(sandbox.run({"plan", "--player", "Ann", "--json"}));
    EXPECT_EQ(saved.at("bpm"), 56.0);
    EXPECT_EQ(saved.at("rules").at("timeZone"), "Etc/UTC");
    const auto days = [&](const char* player) { return sandbox.run({"plan", "--player", player}).out; };
    EXPECT_NE(days("Ann").find("Days by Etc/UTC from 0:00."), std::string::npos) << days("Ann");
    EXPECT_NE(days("Ben").find("Days by each take's own zone from 0:00."), std::string::npos) << days("Ben");
    EXPECT_EQ(jsonOf(sandbox.run({"plan", "--player", "Ben", "--json"})).at("bpm"), 60.0);
    EXPECT_EQ(jsonOf(sandbox.run({"plan", "--player", "Ann", "--start", "70", "--json"})).at("bpm"), 70.0);
    EXPECT_EQ(jsonOf(sandbox.run({"plan", "--player", "Ann", "--json"})).at("bpm"), 56.0);
}

TEST(ToolPlan, GuideWithoutATempoIsAtThePlans) {
    const Sandbox sandbox;
    ASSERT_EQ(sandbox.run({"plan", "--player", "Ann", "--start", "77", "--save"}).exitCode, 0);
    const Ran run = sandbox.run({"guide", "-o", "g.mid", "--player", "Ann", "--json"});
    EXPECT_EQ(jsonOf(run).at("bpm"), 77.0);
    EXPECT_NE(run.err.find("77 bpm by the plan"), std::string::npos) << run.err;
}

TEST(ToolPlan, SeveralPlayersAreNotMixed) {
    const Sandbox sandbox;
    writeGuide(sandbox);
    ASSERT_EQ(keep(sandbox, "guide.mid", "2026-03-27T17:00Z").exitCode, 0);
    ASSERT_EQ(sandbox.run({"assess", "guide.mid", "--keep", "--player", "Ben"}).exitCode, 0);
    const Ran run = sandbox.run({"plan"});
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_NE(run.err.find("Ann, Ben"), std::string::npos) << run.err;
}

TEST(ToolPlan, PlayerNamedByTheEnvironmentGivesWayToTheOption) {
    const Sandbox sandbox;
    writeGuide(sandbox);
    ASSERT_EQ(keep(sandbox, "guide.mid", "2026-03-27T17:00Z").exitCode, 0);
    const std::string named = "VALVE_LADDER_PLAYER='Ina Жук' \"$TOOL\" ";
    ASSERT_EQ(sandbox.shell(named + "assess guide.mid --keep").exitCode, 0);
    EXPECT_EQ(jsonOf(sandbox.shell(named + "plan --json")).at("player"), "Ina Жук");
    EXPECT_EQ(jsonOf(sandbox.shell(named + "plan --player Ann --json")).at("player"), "Ann");
    EXPECT_EQ(sandbox.shell("VALVE_LADDER_PLAYER= \"$TOOL\" plan").exitCode, 1); // as if it were not set
}

} // namespace valveladder
