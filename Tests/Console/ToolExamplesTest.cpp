#include "RunTool.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <fstream>
#include <iterator>

namespace valveladder {

using consoletest::Ran;
using consoletest::Sandbox;
using Json = nlohmann::json;

namespace {

std::string shipped(const std::string& name) {
    std::ifstream file(VALVE_LADDER_SOURCE_DIR "/Resources/examples/" + name, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

/// A log's takes, but for what every log has of its own.
Json takesOf(const Sandbox& sandbox, const std::string& log) {
    const Ran run = sandbox.run({"--json", "log", "export", "--log", log});
    EXPECT_EQ(run.exitCode, 0) << run.err;
    Json takes = Json::parse(run.out).at("takes");
    for (Json& take : takes) {
        EXPECT_EQ(take.at("invented"), true);
        take.erase("machine");
    }
    return takes;
}

} // namespace

TEST(ToolExamples, AreThoseThatAreShippedAndLeaveTheLogAlone) {
    const Sandbox sandbox;
    const Ran run = sandbox.run({"examples", "look-round"});
    ASSERT_EQ(run.exitCode, 0) << run.err;
    EXPECT_FALSE(std::filesystem::exists(sandbox.log()));
    for (const char* name : {"README.txt", "report.txt", "one-rung.json"})
        EXPECT_EQ(sandbox.read(std::string("look-round/") + name), shipped(name))
            << "write them anew: valve-ladder examples Resources/examples";
    ASSERT_FALSE(shipped("week.sqlite").empty());
    sandbox.write("shipped.sqlite", shipped("week.sqlite"));
    EXPECT_EQ(takesOf(sandbox, "look-round/week.sqlite"), takesOf(sandbox, "shipped.sqlite"));
    EXPECT_NE(sandbox.read("look-round/report.txt").find("invented"), std::string::npos);
    EXPECT_LT(shipped("one-rung.flac").size(), 600000U);
}

TEST(ToolExamples, TheShortTakeIsHeard) {
    const Sandbox sandbox;
    sandbox.write("one-rung.flac", shipped("one-rung.flac"));
    sandbox.write("one-rung.json", shipped("one-rung.json"));
    const Ran run =
        sandbox.run({"--json", "assess", "one-rung.flac", "-d", "one-rung.json", "--picture", "take.svg"});
    ASSERT_EQ(run.exitCode, 0) << run.err;
    int right = 0;
    int missed = 0;
    const Json take = Json::parse(run.out).at("take");
    for (const Json& note : take.at("performance").at("notes")) {
        right += note.at("outcome") == "right" ? 1 : 0;
        missed += note.at("outcome") == "missed" ? 1 : 0;
    }
    EXPECT_EQ(right, 12);
    EXPECT_EQ(missed, 1);
    EXPECT_FALSE(sandbox.read("take.svg").empty());
}

TEST(ToolExamples, WrittenTwiceAreTheSame) {
    const Sandbox sandbox;
    ASSERT_EQ(sandbox.run({"examples", "there"}).exitCode, 0);
    const Json before = takesOf(sandbox, "there/week.sqlite");
    ASSERT_EQ(sandbox.run({"examples", "there"}).exitCode, 0);
    EXPECT_EQ(takesOf(sandbox, "there/week.sqlite"), before);
}

} // namespace valveladder
