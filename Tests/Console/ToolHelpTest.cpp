#include "RunTool.h"

#include "Base/Version.h"

#include <algorithm>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <regex>

namespace valveladder {

using consoletest::linesOver;
using consoletest::Ran;
using consoletest::Sandbox;

namespace {

/// The commands that a help text lists under "Commands:".
std::vector<std::string> commandsIn(const std::string& help) {
    std::vector<std::string> names;
    const std::size_t from = help.find("\nCommands:\n");
    if (from == std::string::npos)
        return names;
    const std::string part = help.substr(from + 11, help.find("\n\n", from + 11) - from - 11);
    const std::regex line("(^|\n)  ([a-z][a-z-]*) ");
    for (auto at = std::sregex_iterator(part.begin(), part.end(), line); at != std::sregex_iterator(); ++at)
        names.push_back((*at)[2]);
    return names;
}

void collectCommands(const Sandbox& sandbox, const std::vector<std::string>& prefix,
                     std::vector<std::vector<std::string>>& all) {
    std::vector<std::string> arguments = prefix;
    arguments.push_back("--help");
    for (const std::string& name : commandsIn(sandbox.run(arguments).out)) {
        std::vector<std::string> command = prefix;
        command.push_back(name);
        all.push_back(command);
        collectCommands(sandbox, command, all);
    }
}

std::vector<std::vector<std::string>> allCommands(const Sandbox& sandbox) {
    std::vector<std::vector<std::string>> all;
    collectCommands(sandbox, {}, all);
    return all;
}

std::string joined(const std::vector<std::string>& words) {
    std::string text;
    for (const std::string& word : words)
        text += (text.empty() ? "" : " ") + word;
    return text;
}

} // namespace

TEST(ToolHelp, ListsEveryCommandOnce) {
    const Sandbox sandbox;
    const std::vector<std::string> names = commandsIn(sandbox.run({"--help"}).out);
    const std::vector<std::string> wanted = {
        "instruments", "fingering", "drill", "plan",     "guide", "session", "backing", "sheet", "mark",
        "assess",      "evaluate",  "take",  "findings", "next",  "compare", "players", "log"};
    for (const std::string& name : wanted)
        EXPECT_EQ(std::count(names.begin(), names.end(), name), 1) << name;
}

TEST(ToolHelp, EveryCommandExplainsItselfWithinEightyColumns) {
    const Sandbox sandbox;
    std::vector<std::vector<std::string>> commands = allCommands(sandbox);
    commands.push_back({});
    ASSERT_GE(commands.size(), 18u);
    for (std::vector<std::string> command : commands) {
        const std::string name = joined(command);
        command.push_back("--help");
        const Ran run = sandbox.run(command);
        EXPECT_EQ(run.exitCode, 0) << name;
        EXPECT_EQ(run.err, "") << name;
        EXPECT_NE(run.out.find("Usage:"), std::string::npos) << name;
        EXPECT_EQ(linesOver(run.out, 80), std::vector<std::string>()) << name;
    }
}

TEST(ToolHelp, TopSaysExitCodesAndCautions) {
    const Sandbox sandbox;
    const std::string help = sandbox.run({"--help"}).out;
    EXPECT_NE(help.find("Exit codes: 0 done; 1 a problem"), std::string::npos);
    EXPECT_NE(help.find("Stop when hand, wrist or lips hurt"), std::string::npos);
}

// Every example in every help text must be understood: none may be answered with "wrong use". Files that they
// name are not there, which is a problem (1), not wrong use (2).
TEST(ToolHelp, ExamplesAreWhatTheToolUnderstands) {
    const Sandbox sandbox;
    int examples = 0;
    std::vector<std::vector<std::string>> commands = allCommands(sandbox);
    commands.push_back({});
    for (std::vector<std::string> command : commands) {
        command.push_back("--help");
        const std::string help = sandbox.run(command).out;
        const std::regex example("\n  valve-ladder ([^\n]*)");
        for (auto at = std::sregex_iterator(help.begin(), help.end(), example); at != std::sregex_iterator();
             ++at) {
            std::string line = (*at)[1];
            line = line.substr(0, line.find("      "));
            const Ran run = sandbox.shell("exec \"$TOOL\" " + line);
            EXPECT_TRUE(run.exitCode == 0 || run.exitCode == 1) << line << "\n" << run.err;
            EXPECT_EQ(run.signal, 0) << line;
            ++examples;
        }
    }
    EXPECT_GE(examples, 25);
}

TEST(ToolHelp, VersionIsOneLine) {
    const Sandbox sandbox;
    const Ran run = sandbox.run({"--version"});
    EXPECT_EQ(run.exitCode, 0);
    EXPECT_EQ(run.out, "valve-ladder " + std::string(programVersion()) + "\n");
}

TEST(ToolWrongUse, IsAnsweredWithTwoAndTheWayToHelp) {
    const Sandbox sandbox;
    const std::vector<std::vector<std::string>> wrong = {
        {},
        {"nonsense"},
        {"guide"},
        {"guide", "--bpm"},
        {"guide", "-o", "x.mid", "--bpm", "sixty"},
        {"guide", "-o", "x.mid", "--nonsense"},
        {"drill"},
        {"drill", "make", "--shape", "diagonal"},
        {"drill", "make", "--foot", "H9"},
        {"drill", "make", "--ratio", "3"},
        {"drill", "make", "--note-value", "1/7t."},
        {"drill", "make", "--meter", "waltz"},
        {"drill", "make", "--cells", "C4 X4"},
        {"drill", "make", "--use", "E4"},
        {"drill", "make", "--repeats", "99999999999999999999"},
        {"fingering"},
        {"take", "note", "1"},
        {"log", "export", "--csv", "a", "-o", "b"},
    };
    for (const auto& arguments : wrong) {
        const Ran run = sandbox.run(arguments);
        EXPECT_EQ(run.exitCode, 2) << joined(arguments) << "\n" << run.err;
        EXPECT_EQ(run.out, "") << joined(arguments);
        EXPECT_NE(run.err.find("--help'"), std::string::npos) << run.err;
    }
}

TEST(ToolWrongUse, SaysWhichWordsAreUnderstood) {
    const Sandbox sandbox;
    const Ran run = sandbox.run({"drill", "make", "--shape", "diagonal"});
    EXPECT_NE(run.err.find("'diagonal' is not one of up, up-down, down-up"), std::string::npos) << run.err;
    EXPECT_NE(run.err.find("valve-ladder drill make --help"), std::string::npos) << run.err;
}

TEST(ToolWrongUse, IsJsonForPrograms) {
    const Sandbox sandbox;
    const Ran run = sandbox.run({"--json", "guide", "-o", "x.mid", "--bpm", "sixty"});
    EXPECT_EQ(run.exitCode, 2);
    EXPECT_FALSE(nlohmann::json::parse(run.err).at("problem").at("what").get<std::string>().empty());
}

} // namespace valveladder
