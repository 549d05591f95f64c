// The demo's report, and what `plan` and `next` read from the log that it leaves.
#include "Demo/DemoSession.h"
#include "Log/LogStore.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <array>
#include <cstdio>
#include <fstream>
#include <sstream>
#include <unistd.h>

namespace valveladder {
namespace {

namespace fs = std::filesystem;

std::string outputOf(const std::string& command) {
    std::string text;
    FILE* pipe = popen(command.c_str(), "r");
    if (pipe == nullptr)
        return text;
    std::array<char, 4096> piece{};
    while (const std::size_t size = std::fread(piece.data(), 1, piece.size(), pipe))
        text.append(piece.data(), size);
    pclose(pipe);
    return text;
}

std::string contentOf(const fs::path& path) {
    std::ifstream file(path, std::ios::binary);
    std::stringstream content;
    content << file.rdbuf();
    return content.str();
}

TEST(DemoPlan, ReportPlanAndNextAgreeAndThereIsSomethingToLookAt) {
    const fs::path folder = fs::temp_directory_path() / ("valve-ladder-demo-" + std::to_string(getpid()));
    DemoOptions options;
    options.plugin = fs::path(VALVE_LADDER_PRODUCTS) / "VST3" / "Valve Ladder.vst3";
    options.folder = folder;
    options.takes = 3;
    const auto report = playDemo(options);
    ASSERT_TRUE(report.ok()) << report.problem().text();
    EXPECT_GT(report.value().next.bpm, TempoRules{}.startBpm); // its rules are its own
    const std::string asked =
        " --json --player '" + report.value().player + "' --log '" + (folder / "log.sqlite").string() + "'";
    const auto plan = nlohmann::json::parse(outputOf(VALVE_LADDER_TOOL " plan" + asked));
    EXPECT_EQ(plan.at("bpm"), report.value().next.bpm);
    const auto next = nlohmann::json::parse(outputOf(VALVE_LADDER_TOOL " next --invented" + asked));
    EXPECT_EQ(next.at("bpm"), report.value().next.bpm);
    const std::string text = contentOf(folder / "report.txt");
    EXPECT_NE(text.find("What was found:"), std::string::npos) << text;
    EXPECT_TRUE(contentOf(folder / "take.svg").starts_with("<svg"));
    EXPECT_TRUE(contentOf(folder / "practice-sheet.pdf").starts_with("%PDF"));
    EXPECT_NE(contentOf(folder / "findings.txt").find("What was found"), std::string::npos);
    for (const auto& take : report.value().takes)
        EXPECT_NEAR(take.playedBpm, take.header.plannedBpm, 0.01);
    fs::remove_all(folder);
}

} // namespace
} // namespace valveladder
