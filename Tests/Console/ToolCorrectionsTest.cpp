// "That was right": a player's corrections on the command line. The takes are invented.
#include "RunTool.h"

#include "Log/LogStore.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <set>

namespace valveladder {

using consoletest::linesOver;
using consoletest::Ran;
using consoletest::Sandbox;
using nlohmann::json;

namespace {

bool holds(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

/// A drill of four notes, and a take of it in which the third is another note.
void keepFaultyTake(const Sandbox& sandbox, const std::string& playedAt = "2026-03-27T17:00Z") {
    for (const auto& [name, notes] : {std::pair{"asked", "C4 D4 E4 F4"}, {"played", "C4 D4 F#4 F4"}}) {
        const std::string drill = std::string(name) + ".json";
        ASSERT_EQ(
            sandbox.run({"drill", "make", "--cells", notes, "--segments", "1", "--repeats", "1", "-o", drill})
                .exitCode,
            0);
        ASSERT_EQ(
            sandbox
                .run({"guide", "-d", drill, "--bpm", "60", "--no-valves", "-o", std::string(name) + ".mid"})
                .exitCode,
            0);
    }
    const Ran kept = sandbox.run({"assess", "played.mid", "-d", "asked.json", "--keep", "--player", "Ann",
                                  "--bpm", "60", "--played-at", playedAt});
    ASSERT_EQ(kept.exitCode, 0) << kept.err;
}

/// The second note breathed before and split as well, as far as the log knows.
void addFaults(const Sandbox& sandbox) {
    auto log = LogStore::open(sandbox.log());
    ASSERT_TRUE(log.ok());
    TakeRecord take = log.value()->take("1").value();
    take.performance.notes.at(1).split = take.performance.notes.at(1).breathBefore = true;
    take.performance.extras.push_back({4.5, 4.6, take.performance.notes[1].played, 1});
    ASSERT_TRUE(log.value()->finishTake(take).ok());
}

std::string newestId(const Sandbox& sandbox) {
    return json::parse(sandbox.run({"take", "list", "--json"}).out).back().at("id");
}

json takeOf(const Sandbox& sandbox, std::vector<std::string> more = {}) {
    more.insert(more.begin(), {"take", "show", newestId(sandbox), "--json"});
    const Ran run = sandbox.run(more);
    EXPECT_EQ(run.exitCode, 0) << run.err;
    return json::parse(run.out);
}

} // namespace

TEST(ToolCorrections, ShowNumbersTheNotesAndCorrectTakesThePlayersWord) {
    const Sandbox sandbox;
    keepFaultyTake(sandbox);
    const Ran before = sandbox.run({"take", "show", "1"});
    EXPECT_TRUE(holds(before.out, "\n   3  ")) << before.out;
    EXPECT_TRUE(holds(before.out, "E4 (1-2) expected, F#4 heard")) << before.out;
    const Ran correct = sandbox.run({"take", "correct", "1", "3", "--right"});
    ASSERT_EQ(correct.exitCode, 0) << correct.err;
    EXPECT_TRUE(holds(correct.out, "note 3: right, and not a wrong note")) << correct.out;

    const Ran after = sandbox.run({"take", "show", "1"});
    EXPECT_FALSE(holds(after.out, "Not right")) << after.out;
    EXPECT_TRUE(holds(after.out, "Right, as the player says, though heard otherwise:\n   3  ")) << after.out;
    EXPECT_TRUE(holds(after.out, "4/4")) << after.out;
    EXPECT_TRUE(holds(sandbox.run({"take", "list"}).out, "4/4"));
    for (const std::string& text : {before.out, correct.out, after.out})
        EXPECT_EQ(linesOver(text, 80), std::vector<std::string>()) << text;
    EXPECT_EQ(sandbox.run({"take", "show", "1", "--as-heard"}).out, before.out);
}

TEST(ToolCorrections, AreTakenBack) {
    const Sandbox sandbox;
    keepFaultyTake(sandbox);
    const json before = takeOf(sandbox);
    ASSERT_EQ(sandbox.run({"take", "correct", "1", "3", "--right"}).exitCode, 0);
    EXPECT_EQ(takeOf(sandbox).at("performance").at("notes").at(2).at("outcome"), "right");
    EXPECT_EQ(takeOf(sandbox, {"--as-heard"}).at("performance"), before.at("performance"));
    ASSERT_EQ(sandbox.run({"take", "correct", "1", "3", "--as-heard"}).exitCode, 0);
    EXPECT_EQ(takeOf(sandbox), before);
}

TEST(ToolCorrections, OneKindOfSeveralAllOfANoteOrAllOfATake) {
    const Sandbox sandbox;
    keepFaultyTake(sandbox);
    addFaults(sandbox);
    const auto said = [&](std::vector<std::string> which) {
        which.insert(which.begin(), {"take", "correct", newestId(sandbox), "--json"});
        const Ran run = sandbox.run(which);
        EXPECT_EQ(run.exitCode, 0) << run.err;
        std::set<std::string> kinds;
        const json take = takeOf(sandbox);
        for (const json& each : take.at("corrections"))
            kinds.insert(each.at("report"));
        return kinds;
    };
    using Kinds = std::set<std::string>;
    EXPECT_EQ(said({"2", "--right", "--report", "breath"}), Kinds{"breath"});
    EXPECT_EQ(said({"2", "--right"}), (Kinds{"breath", "split"}));
    EXPECT_EQ(said({"--right"}), (Kinds{"breath", "split", "wrong"}));
    EXPECT_EQ(said({"--as-heard", "--report", "split"}), (Kinds{"breath", "wrong"}));
    EXPECT_EQ(said({"--as-heard"}), Kinds{});
}

TEST(ToolCorrections, OfNothingThatWasReportedAreRefusedWithWords) {
    const Sandbox sandbox;
    keepFaultyTake(sandbox);
    const auto refusal = [&](std::vector<std::string> arguments) {
        arguments.insert(arguments.begin(), {"take", "correct"});
        const Ran run = sandbox.run(arguments);
        EXPECT_NE(run.exitCode, 0) << run.out;
        return run.err;
    };
    EXPECT_TRUE(holds(refusal({"1", "1", "--right"}), "nothing was reported of note 1"));
    EXPECT_TRUE(holds(refusal({"1", "99", "--right"}), "note 99"));
    EXPECT_TRUE(holds(refusal({"1", "3", "--right", "--report", "split"}), "split"));
    EXPECT_TRUE(holds(refusal({"1", "3"}), "--right"));
    EXPECT_TRUE(holds(refusal({"7", "3", "--right"}), "there is no take 7"));
    EXPECT_FALSE(refusal({"1", "x", "--right"}).empty());
    EXPECT_FALSE(refusal({"1", "3", "--right", "--as-heard"}).empty());
    EXPECT_TRUE(takeOf(sandbox).at("corrections").empty());
}

TEST(ToolCorrections, EvaluateCountsHowOftenPlayersSaidSo) {
    const Sandbox sandbox;
    keepFaultyTake(sandbox, "2026-03-27T17:00Z");
    keepFaultyTake(sandbox, "2026-03-28T17:00Z");
    addFaults(sandbox);
    ASSERT_EQ(sandbox.run({"take", "correct", newestId(sandbox), "3", "--right"}).exitCode, 0);
    const json counted = json::parse(sandbox.run({"evaluate", "--corrections", "--json"}).out);
    const json& all = counted.at("all");
    EXPECT_EQ(all, counted.at("instruments").at("trumpet-b-flat"));
    EXPECT_EQ(all.at("takes"), 2);
    EXPECT_EQ(all.at("correctedTakes"), 1);
    EXPECT_EQ(all.at("notes"), 8);
    EXPECT_EQ(all.at("kinds").at("wrong").at("reported"), 2);
    EXPECT_EQ(all.at("kinds").at("wrong").at("saidRight"), 1);
    EXPECT_EQ(all.at("kinds").at("split").at("reported"), 1);
    EXPECT_EQ(all.at("reports").at("saidRight"), 1);
    EXPECT_EQ(all.at("falseIn200Notes"), 25.0);

    const Ran text = sandbox.run({"evaluate", "--corrections"});
    EXPECT_TRUE(holds(text.out, "trumpet-b-flat")) << text.out;
    EXPECT_TRUE(holds(text.out, "25.0")) << text.out;
    EXPECT_EQ(linesOver(text.out, 80), std::vector<std::string>());
    const json none =
        json::parse(sandbox.run({"evaluate", "--corrections", "--player", "Ben", "--json"}).out);
    EXPECT_EQ(none.at("all").at("takes"), 0);
    EXPECT_NE(sandbox.run({"evaluate"}).exitCode, 0);
    EXPECT_NE(sandbox.run({"evaluate", "folder", "--corrections"}).exitCode, 0);
}

TEST(ToolCorrections, GoAlongInExportAndMerge) {
    const Sandbox here;
    const Sandbox there;
    keepFaultyTake(here);
    ASSERT_EQ(here.run({"take", "correct", "1", "3", "--right"}).exitCode, 0);
    const json merged = json::parse(there.run({"log", "merge", here.log().string(), "--json"}).out);
    EXPECT_EQ(merged.at("corrections"), 1);
    EXPECT_EQ(takeOf(there), takeOf(here));
    const json said = json::parse(there.run({"log", "export"}).out).at("takes").at(0);
    const json heard = json::parse(there.run({"log", "export", "--as-heard"}).out).at("takes").at(0);
    EXPECT_EQ(said.at("performance").at("notes").at(2).at("outcome"), "right");
    EXPECT_EQ(heard.at("performance").at("notes").at(2).at("outcome"), "wrong");
    EXPECT_EQ(said.at("corrections"), heard.at("corrections"));
    ASSERT_EQ(there.run({"log", "export", "--csv", "csv"}).exitCode, 0);
    EXPECT_TRUE(holds(there.read("csv/corrections.csv"), ",2,wrong,"));
}

} // namespace valveladder
