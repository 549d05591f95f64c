// Findings, the next session, comparisons and players, as a player meets them. The takes are simulated.
#include "RunTool.h"

#include "Findings/SeparatingDrill.h"
#include "Support/SensorFingers.h"
#include "Support/SimulatedLog.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <regex>
#include <sstream>

namespace valveladder {

using consoletest::linesOver;
using consoletest::Ran;
using consoletest::Sandbox;
using nlohmann::json;
using namespace simulated;

namespace {

const Suspect threePressing{SuspectKind::press, 3, {}, {}, {}};

void practise(const Sandbox& sandbox, const Practice& practice, double extraMs, std::uint64_t seed = 1) {
    auto log = LogStore::open(sandbox.log());
    ASSERT_TRUE(log.ok()) << log.problem().text();
    Player player({{threePressing, extraMs}}, {}, seed);
    ASSERT_TRUE(keepPractice(*log.value(), player, practice).ok());
}

/// The points below a heading of the text, each unwrapped.
std::vector<std::string> pointsBelow(const std::string& text, const std::string& heading) {
    std::vector<std::string> points;
    const std::size_t from = text.find("\n" + heading + "\n");
    if (from == std::string::npos)
        return points;
    std::istringstream lines(text.substr(from + heading.size() + 2));
    for (std::string line; std::getline(lines, line) && !line.empty();) {
        if (line.starts_with("  - "))
            points.push_back(line.substr(4));
        else
            points.back() += " " + line.substr(line.find_first_not_of(' '));
    }
    return points;
}

} // namespace

TEST(ToolFindings, SayWhichFingerByHowMuchAndHowSure) {
    const Sandbox sandbox;
    practise(sandbox, {}, 30.0);
    const Ran run = sandbox.run({"findings"});
    ASSERT_EQ(run.exitCode, 0) << run.err;
    EXPECT_EQ(linesOver(run.out, 80), std::vector<std::string>());
    const auto points = pointsBelow(run.out, "What stands out");
    ASSERT_FALSE(points.empty()) << run.out;
    EXPECT_TRUE(points.front().starts_with("Your third finger goes down ")) << points.front();
    const std::regex figured(
        "\\d+(\\.\\d+)? .*Sure: -?\\d+(\\.\\d)? to -?\\d+(\\.\\d)? .*\\(\\d+ changes? in \\d+ takes?\\)");
    for (const std::string& point : points)
        EXPECT_TRUE(std::regex_search(point, figured)) << point;
}

TEST(ToolFindings, ClaimNothingFromTooFewTakesAndSaySo) {
    const Sandbox sandbox;
    Practice one{.takes = 1};
    one.drill = cellDrill({{{60, 62}, {*Combination::parse("0"), *Combination::parse("1-3")}}}, "Cell", 4);
    practise(sandbox, one, 40.0);
    const Ran run = sandbox.run({"findings"});
    ASSERT_EQ(run.exitCode, 0) << run.err;
    EXPECT_TRUE(pointsBelow(run.out, "What stands out").empty()) << run.out;
    EXPECT_NE(run.out.find("Not enough data yet"), std::string::npos) << run.out;
}

TEST(ToolFindings, AnswerProgramsInJson) {
    const Sandbox sandbox;
    practise(sandbox, {}, 30.0);
    const Ran run = sandbox.run({"findings", "--json"});
    ASSERT_EQ(run.exitCode, 0) << run.err;
    const json all = json::parse(run.out);
    ASSERT_EQ(all.size(), 1u);
    const json& finding = all[0].at("findings").at(0);
    EXPECT_EQ(finding.at("suspect"), "3 pressing");
    EXPECT_LT(finding.at("effect").at("low").get<double>(), finding.at("effect").at("value").get<double>());
    EXPECT_GT(finding.at("effect").at("n").get<int>(), 0);
}

TEST(ToolFindings, LastFingerIsToldInWordsTableAndJson) {
    const Sandbox sandbox;
    {
        auto log = LogStore::open(sandbox.log());
        ASSERT_TRUE(log.ok()) << log.problem().text();
        const Practice practice{.takes = 4};
        Player player({}, {}, 5);
        for (int take = 0; take < practice.takes; ++take) {
            TakeRecord record = recordOf(player, practice, take);
            const Score score = buildScore(practice.drill, practice.instrument, record.playedBpm).value();
            measureBySensors(record.performance, score,
                             sensorMoves(record.performance, score, {{threePressing, 40.0}}, {},
                                         static_cast<std::uint64_t>(take)));
            ASSERT_TRUE(log.value()->finishTake(record).ok());
        }
    }
    const Ran run = sandbox.run({"findings"});
    ASSERT_EQ(run.exitCode, 0) << run.err;
    EXPECT_EQ(linesOver(run.out, 80), std::vector<std::string>());
    const auto points = pointsBelow(run.out, "What stands out");
    const auto told = std::ranges::count_if(points, [](const std::string& point) {
        return point.starts_with("Your third finger goes down last in ") &&
               point.find("as the valve sensors tell. Sure: ") != std::string::npos;
    });
    EXPECT_EQ(told, 1) << run.out;
    EXPECT_NE(run.out.find("\nWhich finger came last in all takes, by valve sensors\n"), std::string::npos)
        << run.out;
    const json all = json::parse(sandbox.run({"findings", "--json"}).out);
    const json& fingers = all.at(0).at("lastFingers");
    const auto three =
        std::ranges::find_if(fingers, [](const json& one) { return one.at("finger") == "3 pressing"; });
    ASSERT_NE(three, fingers.end());
    EXPECT_EQ(three->at("from"), "valve sensors");
    EXPECT_TRUE(three->at("claimed").get<bool>());
    EXPECT_GT(three->at("last").get<double>(), 1.5 * three->at("byChance").get<double>());
    EXPECT_LT(three->at("percent").at("low"), three->at("percent").at("value"));
    EXPECT_EQ(all.at(0).at("lastClaims").size(), 1u);
    const Ran players = sandbox.run({"players"});
    const std::regex said("Your\\s+third\\s+finger\\s+goes\\s+down\\s+last\\s+in");
    EXPECT_TRUE(std::regex_search(players.out, said)) << players.out;
}

TEST(ToolFindings, ReportProblemsWithOneAndKeepInventedTakesApart) {
    const Sandbox sandbox;
    EXPECT_EQ(sandbox.run({"findings"}).exitCode, 1); // no log yet
    practise(sandbox, {}, 0.0);
    Practice invented{.player = "Cleo", .takes = 2, .invented = true};
    practise(sandbox, invented, 0.0);
    const Ran several = sandbox.run({"findings"});
    EXPECT_EQ(several.exitCode, 1);
    EXPECT_NE(several.err.find("--player"), std::string::npos);
    EXPECT_EQ(sandbox.run({"findings", "--player", "Nobody"}).exitCode, 1);
    EXPECT_EQ(sandbox.run({"findings", "--player", "Ann", "--invented"}).exitCode, 1);
    EXPECT_NE(sandbox.run({"findings", "--player", "Cleo"}).out.find("(invented)"), std::string::npos);
}

TEST(ToolNext, WritesADrillThatTheOtherCommandsLoad) {
    const Sandbox sandbox;
    practise(sandbox, {}, 30.0);
    const Ran run = sandbox.run({"next", "--minutes", "15", "-o", "next.json"});
    ASSERT_EQ(run.exitCode, 0) << run.err;
    EXPECT_EQ(linesOver(run.out, 80), std::vector<std::string>());
    EXPECT_TRUE(std::regex_search(run.out, std::regex("for\\s+your\\s+third\\s+finger\\s+going\\s+down")))
        << run.out;
    const std::string instrument = Practice{}.instrument.id;
    const Ran check = sandbox.run({"drill", "check", "-d", "next.json", "-i", instrument});
    EXPECT_EQ(check.exitCode, 0) << check.err;
    const Ran guide =
        sandbox.run({"guide", "-d", "next.json", "-i", instrument, "--bpm", "60", "-o", "guide.mid"});
    EXPECT_EQ(guide.exitCode, 0) << guide.err;
}

TEST(ToolNext, StaysWithinItsMinutesAndThePlansTempo) {
    const Sandbox sandbox;
    practise(sandbox, {}, 30.0);
    const Ran run = sandbox.run({"next", "--minutes", "12", "--json"});
    ASSERT_EQ(run.exitCode, 0) << run.err;
    const json session = json::parse(run.out);
    double seconds = 0.0;
    for (const json& item : session.at("items")) {
        seconds += item.at("seconds").get<double>() + item.at("restSeconds").get<double>();
        EXPECT_LE(item.at("bpm").get<double>(), session.at("bpm").get<double>());
        EXPECT_FALSE(item.at("why").get<std::string>().empty());
    }
    constexpr double lastRest = 10.0;
    EXPECT_LE(seconds, 12.0 * 60.0 + lastRest);
    const Ran plan = sandbox.run({"plan", "-i", Practice{}.instrument.id, "--json"});
    EXPECT_EQ(json::parse(plan.out).at("bpm"), session.at("bpm"));
}

TEST(ToolNext, RefusesWhatCannotBeASession) {
    const Sandbox sandbox;
    practise(sandbox, {.takes = 1}, 0.0);
    EXPECT_EQ(sandbox.run({"next", "--minutes", "0"}).exitCode, 1);
    EXPECT_EQ(sandbox.run({"next", "--minutes", "500"}).exitCode, 1);
    EXPECT_EQ(sandbox.run({"next", "--bpm", "2"}).exitCode, 1);
    EXPECT_EQ(sandbox.run({"next", "-d", "missing.json"}).exitCode, 1);
    EXPECT_EQ(sandbox.run({"next", "--minutes", "many"}).exitCode, 2);
}

TEST(ToolNext, CautionsCanBeSwitchedOff) {
    const Sandbox sandbox;
    practise(sandbox, {.takes = 1}, 0.0);
    EXPECT_NE(sandbox.run({"next"}).out.find("Take care"), std::string::npos);
    EXPECT_EQ(sandbox.run({"next", "--no-care"}).out.find("Take care"), std::string::npos);
}

TEST(ToolCompare, LaysTwoTakesSideBySideInEveryForm) {
    const Sandbox sandbox;
    practise(sandbox, {}, 20.0);
    const Ran text = sandbox.run({"compare", "Ann-0", "Ann-5"});
    ASSERT_EQ(text.exitCode, 0) << text.err;
    EXPECT_NE(text.out.find("90 % interval"), std::string::npos) << text.out;
    EXPECT_NE(text.out.find("take 1, "), std::string::npos) << text.out;
    EXPECT_EQ(text.out.find("Ann-0"), std::string::npos) << text.out;
    EXPECT_EQ(linesOver(text.out, 80), std::vector<std::string>());
    const Ran programs = sandbox.run({"compare", "Ann-0", "Ann-5", "--json"});
    EXPECT_EQ(json::parse(programs.out).at("groups").size(), 2u);
    ASSERT_EQ(sandbox.run({"compare", "Ann-0", "Ann-5", "--csv", "c.csv", "--svg", "c.svg"}).exitCode, 0);
    EXPECT_TRUE(sandbox.read("c.csv").starts_with("note,written,combination"));
    EXPECT_TRUE(sandbox.read("c.svg").starts_with("<svg "));
    const Ran picture = sandbox.run({"compare", "Ann-0", "Ann-5", "--svg", "-", "--measure", "changeover"});
    EXPECT_TRUE(picture.out.starts_with("<svg ")) << picture.out.substr(0, 200);
}

TEST(ToolCompare, TakesWholeDays) {
    const Sandbox sandbox;
    practise(sandbox, {}, 20.0);
    const Ran run = sandbox.run({"compare", "2024-03-04", "2024-03-05"});
    ASSERT_EQ(run.exitCode, 0) << run.err;
    EXPECT_NE(run.out.find("2024-03-05"), std::string::npos);
    EXPECT_EQ(sandbox.run({"compare", "2024-03-04", "2023-01-01"}).exitCode, 1);
    EXPECT_EQ(sandbox.run({"compare", "2024-03-04"}).exitCode, 1);
    EXPECT_EQ(sandbox.run({"compare"}).exitCode, 2);
}

TEST(ToolCompare, InventedDaysAreTakenAloneAndOnlyWhereThereAreNoRealOnes) {
    const Sandbox sandbox;
    const std::vector<std::string> days{"compare", "2024-03-04", "2024-03-05"};
    const auto comparing = [&](std::vector<std::string> more) {
        more.insert(more.begin(), days.begin(), days.end());
        return sandbox.run(more);
    };
    practise(sandbox, {.player = "Cleo", .invented = true}, 20.0);
    const Ran alone = comparing({});
    ASSERT_EQ(alone.exitCode, 0) << alone.err;
    EXPECT_EQ(comparing({"--invented"}).out, alone.out);
    {
        // A real take of the second day alone: the first day's are all invented.
        auto log = LogStore::open(sandbox.log());
        ASSERT_TRUE(log.ok()) << log.problem().text();
        Player player({}, {}, 2);
        TakeRecord real = recordOf(player, {.player = "Cleo"}, 5);
        real.header.id = "real";
        ASSERT_TRUE(log.value()->finishTake(real).ok());
    }
    const Ran mixed = comparing({});
    EXPECT_EQ(mixed.exitCode, 1);
    EXPECT_NE(mixed.err.find("Cleo has no take of that day"), std::string::npos) << mixed.err;
    EXPECT_NE(mixed.err.find("--invented"), std::string::npos) << mixed.err;
    EXPECT_EQ(comparing({"--invented"}).out, alone.out);
}

TEST(ToolPlayers, AreToldEachApart) {
    const Sandbox sandbox;
    practise(sandbox, {}, 30.0);
    practise(sandbox, {.player = "Ben", .takes = 4}, 0.0, 2);
    const Ran run = sandbox.run({"players"});
    ASSERT_EQ(run.exitCode, 0) << run.err;
    EXPECT_LT(run.out.find("\nAnn, "), run.out.find("\nBen, "));
    EXPECT_EQ(linesOver(run.out, 80), std::vector<std::string>());
    const json all = json::parse(sandbox.run({"players", "--json"}).out);
    ASSERT_EQ(all.size(), 2u);
    EXPECT_EQ(all[0].at("findings").at(0).at("suspect"), "3 pressing");
    EXPECT_TRUE(all[1].at("findings").empty());
    EXPECT_EQ(json::parse(sandbox.run({"players", "--brief", "--json"}).out).at(1).at("takes"), 4);
}

TEST(ToolPlayers, HaveAsManyTakesWhereAnotherDrillIsAskedFor) {
    const Sandbox sandbox;
    practise(sandbox, {.takes = 3}, 0.0);
    {
        auto log = LogStore::open(sandbox.log());
        ASSERT_TRUE(log.ok()) << log.problem().text();
        Player player({}, {}, 2);
        ASSERT_TRUE(log.value()->beginTake(recordOf(player, {}, 5).header).ok());
    }
    const Ran brief = sandbox.run({"players", "--brief"});
    EXPECT_NE(brief.out.find(": 3 takes"), std::string::npos) << brief.out;
    const json plan = json::parse(sandbox.run({"plan", "--name", "Another", "--json"}).out);
    EXPECT_NE(plan.at("whyStart").get<std::string>().find("(3 takes)"), std::string::npos) << plan;
}

} // namespace valveladder
