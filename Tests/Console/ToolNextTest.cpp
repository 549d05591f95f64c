// A session that `next` sets, as it is printed, written, guided, played and planned. The takes are simulated.
#include "RunTool.h"

#include "Records/Json.h"
#include "Support/SimulatedLog.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <regex>

namespace valveladder {

using consoletest::linesOver;
using consoletest::Ran;
using consoletest::Sandbox;
using Json = nlohmann::json;
using namespace simulated;

namespace {

const Suspect threePressing{SuspectKind::press, 3, {}, {}, {}};

Json jsonOf(const Ran& run) {
    EXPECT_EQ(run.exitCode, 0) << run.err;
    return run.exitCode == 0 ? Json::parse(run.out) : Json();
}

/// Ann has played her instrument's daily ladder; her third finger is late.
void practise(const Sandbox& sandbox, const std::string& instrumentId, int takes = 2) {
    auto log = LogStore::open(sandbox.log());
    ASSERT_TRUE(log.ok()) << log.problem().text();
    Practice practice;
    practice.instrument = *findInstrument(instrumentId);
    practice.drill = defaultDrill(practice.instrument);
    practice.takes = takes;
    Player player({{threePressing, 30.0}}, {}, 1);
    ASSERT_TRUE(keepPractice(*log.value(), player, practice).ok());
}

} // namespace

TEST(ToolNextFingerings, WhatIsPrintedIsWhatTheFileShows) {
    for (const char* id : {"trumpet-b-flat", "euphonium-4-treble", "tuba-b-flat-4", "horn-double"}) {
        const Sandbox sandbox;
        practise(sandbox, id);
        const Json next =
            jsonOf(sandbox.run({"next", "--minutes", "15", "--bpm", "72", "-o", "next.json", "--json"}));
        const Json shown =
            jsonOf(sandbox.run({"drill", "show", "-d", "next.json", "-i", id, "--bpm", "72", "--json"}));
        EXPECT_NEAR(shown.at("seconds").get<double>(), 60.0 * next.at("minutes").get<double>(), 1e-6) << id;
        const Json& items = next.at("items");
        const Json& spans = shown.at("spans");
        ASSERT_EQ(spans.size(), 4 * items.size()) << id;
        for (std::size_t s = 0; s < spans.size(); ++s) {
            const Json& item = items[s / 4];
            const Json& notes = spans[s].at("notes");
            ASSERT_EQ(notes.size(), item.at("notes").size()) << id;
            for (std::size_t i = 0; i < notes.size(); ++i) {
                EXPECT_EQ(notes[i].at("written"), item.at("notes")[i]) << id;
                EXPECT_EQ(notes[i].at("valves"), item.at("valves")[i]) << id;
            }
        }
    }
}

TEST(ToolNextFingerings, TheTextIsRoundsOfFewThingsEachSaidOnce) {
    const Sandbox sandbox;
    practise(sandbox, "trumpet-b-flat");
    const Ran run = sandbox.run({"next", "--minutes", "15"});
    ASSERT_EQ(run.exitCode, 0) << run.err;
    EXPECT_EQ(linesOver(run.out, 80), std::vector<std::string>());
    EXPECT_TRUE(std::regex_search(
        run.out, std::regex("Warm up, then exercises 1 to [34], (twice|\\w+ times)\\s+through:\\s+about")))
        << run.out;
    EXPECT_NE(run.out.find("Warm-up. "), std::string::npos) << run.out;
    EXPECT_EQ(run.out.find(": as "), std::string::npos) << run.out;
    EXPECT_EQ(run.out.find("  5. "), std::string::npos) << run.out;
}

// 72 quarters a minute are no whole number of microseconds a quarter, and 10 s of rest fill its beats.
TEST(ToolNextPlan, ASessionPlayedAsToldIsOnPlanWhateverItsTempo) {
    for (const char* bpm : {"54", "66", "71", "72", "96.5"}) {
        const Sandbox sandbox;
        practise(sandbox, "trumpet-b-flat");
        const Json next =
            jsonOf(sandbox.run({"next", "--minutes", "8", "--bpm", bpm, "-o", "next.json", "--json"}));
        ASSERT_EQ(sandbox.run({"guide", "-d", "next.json", "--bpm", bpm, "-o", "played.mid"}).exitCode, 0);
        const Json take = jsonOf(sandbox.run({"assess", "played.mid", "-d", "next.json", "--keep", "--player",
                                              "Ann", "--played-at", "2026-03-28T17:00Z", "--json"}))
                              .at("take");
        EXPECT_EQ(take.at("passed"), true) << bpm;
        EXPECT_NEAR(take.at("plannedBpm").get<double>(), std::stod(bpm), 1e-9) << bpm;
        EXPECT_TRUE(!take.contains("messages") || take.at("messages").empty()) << take.at("messages");
        const Json found = jsonOf(sandbox.run({"findings", "--player", "Ann", "--json"}));
        for (const Json& day : found.at(0).at("plan").at("days"))
            EXPECT_EQ(day.at("offPlan"), 0) << day;
        // The plan stands in the log: with the file or its name alone.
        const std::string name = next.at("drill");
        const Json byFile = jsonOf(sandbox.run(
            {"plan", "--player", "Ann", "-d", "next.json", "--at", "2026-03-28T18:00Z", "--json"}));
        const Json byName = jsonOf(
            sandbox.run({"plan", "--player", "Ann", "--name", name, "--at", "2026-03-28T18:00Z", "--json"}));
        EXPECT_EQ(byFile.at("bpm").get<double>(), std::stod(bpm));
        EXPECT_EQ(byName.at("bpm"), byFile.at("bpm"));
    }
}

TEST(ToolNextPlan, WithoutATempoItIsThePlansOwn) {
    const Sandbox sandbox;
    practise(sandbox, "trumpet-b-flat", 6);
    const Json plan = jsonOf(sandbox.run({"plan", "--player", "Ann", "--json"}));
    const Json next = jsonOf(sandbox.run({"next", "--player", "Ann", "--json"}));
    EXPECT_EQ(next.at("bpm"), plan.at("bpm"));
}

TEST(ToolNextPlan, RulesOfADrillFileHoldWhereTheLogHasNone) {
    const Sandbox sandbox;
    practise(sandbox, "trumpet-b-flat");
    Drill ladder = defaultDrill(*findInstrument("trumpet-b-flat"));
    ladder.name = "A ladder of her own";
    TempoRules rules;
    rules.startBpm = 81.0;
    sandbox.write("own.json", toJson(ladder, rules));
    for (const char* command : {"plan", "next"})
        EXPECT_EQ(jsonOf(sandbox.run({command, "--player", "Ann", "-d", "own.json", "--json"})).at("bpm"),
                  81.0)
            << command;
}

} // namespace valveladder
