// What a hostile or hurried user, another program or a crash does to the console tool.
#include "RunTool.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>
#include <sys/stat.h>

#include <algorithm>
#include <filesystem>
#include <iomanip>
#include <regex>
#include <sstream>
#include <thread>

namespace valveladder {

using consoletest::Ran;
using consoletest::Sandbox;
using Json = nlohmann::json;

namespace {

namespace fs = std::filesystem;

void makeGuide(const Sandbox& sandbox) {
    ASSERT_EQ(sandbox.run({"guide", "-o", "guide.mid", "--bpm", "60"}).exitCode, 0);
}

void keep(const Sandbox& sandbox, const std::string& player, const std::string& day) {
    const Ran run = sandbox.run(
        {"assess", "guide.mid", "--keep", "-p", player, "--played-at", "2026-03-" + day + "T17:00Z"});
    ASSERT_EQ(run.exitCode, 0) << run.err;
}

void expectSaid(const Ran& run, int exitCode, const std::vector<std::string>& parts) {
    EXPECT_EQ(run.exitCode, exitCode) << run.out << run.err;
    EXPECT_EQ(run.signal, 0);
    for (const std::string& part : parts)
        EXPECT_NE(run.err.find(part), std::string::npos) << "'" << part << "' is not in: " << run.err;
}

/// A few bars of a part.
std::string shortScore(const std::string& barline = "") {
    std::string text =
        "<score-partwise version=\"4.0\"><part-list><score-part id=\"P1\"><part-name>T</part-name>"
        "</score-part></part-list><part id=\"P1\"><measure number=\"1\"><attributes>"
        "<divisions>2</divisions></attributes>";
    for (const char* step : {"C", "D", "E", "F", "G", "A", "B", "G"})
        text += std::string("<note><pitch><step>") + step +
                "</step><octave>4</octave></pitch><duration>1</duration></note>";
    return text + barline + "</measure></part></score-partwise>";
}

/// Every command, as words, with its help.
struct Command {
    std::vector<std::string> words;
    std::string help;
};

std::vector<std::string> namesIn(const std::string& help) {
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

void collect(const Sandbox& sandbox, const std::vector<std::string>& words, std::vector<Command>& all) {
    std::vector<std::string> asking = words;
    asking.push_back("--help");
    const std::string help = sandbox.run(asking).out;
    all.push_back({words, help});
    for (const std::string& name : namesIn(help)) {
        std::vector<std::string> inner = words;
        inner.push_back(name);
        collect(sandbox, inner, all);
    }
}

std::vector<Command> allCommands(const Sandbox& sandbox) {
    std::vector<Command> all;
    collect(sandbox, {}, all);
    return all;
}

struct ValuedOption {
    std::string brief; ///< "-o"; empty where there is none
    std::string name;  ///< "--output"
};

/// Long options of a help text that take a value.
std::vector<ValuedOption> valuedOptions(const std::string& help) {
    std::vector<ValuedOption> options;
    const std::regex line("\n  (?:(-[a-zA-Z]),)?(--[a-z-]+) [A-Z]");
    for (auto at = std::sregex_iterator(help.begin(), help.end(), line); at != std::sregex_iterator(); ++at)
        options.push_back({(*at)[1], (*at)[2]});
    return options;
}

/// The words of the example that a refusal shows, without one of the options.
std::vector<std::string> exampleOf(const std::string& refusal, const ValuedOption& without) {
    std::smatch found;
    if (!std::regex_search(refusal, found, std::regex("For example: valve-ladder (.*)\\. More:")))
        return {};
    std::vector<std::string> words;
    std::istringstream text(found[1]);
    for (std::string word; text >> std::quoted(word, '\'');)
        if (word != without.name && word != without.brief)
            words.push_back(word);
        else
            text >> std::quoted(word, '\'');
    return words;
}

} // namespace

TEST(ConsoleAttack, NamedPipesAreRefusedNotWaitedFor) {
    const Sandbox sandbox;
    makeGuide(sandbox);
    keep(sandbox, "Ann", "27");
    fs::create_directory(sandbox.file("csv"));
    fs::create_directory(sandbox.file("takes"));
    for (const char* name : {"f.wav", "f.mid", "f.json", "f.musicxml", "f.sqlite", "csv/takes.csv",
                             "takes/f.wav", "takes/f.csv"})
        ASSERT_EQ(mkfifo(sandbox.file(name).c_str(), 0600), 0);
    for (const char* command :
         {"assess f.wav", "assess f.mid", "assess takes", "evaluate takes", "take list --log f.sqlite",
          "log check --log f.sqlite", "log recover --log f.sqlite", "log merge f.sqlite",
          "assess guide.mid --keep -p Ann --played-at 2026-03-28 --log f.sqlite", "mark f.musicxml",
          "drill check -d f.json", "fingering C4 -i f.json", "guide --bpm 60 -o f.mid",
          "log export --csv csv", "log export -o f.json", "plan -p Ann --log f.sqlite"}) {
        // A tool that waits for the pipe's other end would wait for ever: it is ended after a long time.
        const Ran run = sandbox.shell(std::string("exec timeout 300 \"$TOOL\" ") + command);
        EXPECT_EQ(run.exitCode, 1) << command << "\n" << run.err;
        EXPECT_EQ(run.signal, 0) << command;
        EXPECT_TRUE(run.err.starts_with("valve-ladder: ")) << command << ": " << run.err;
    }
}

TEST(ConsoleAttack, TheSameTakeKeptByTwentyAtOnceIsThereOnce) {
    const Sandbox sandbox;
    makeGuide(sandbox);
    const Ran run = sandbox.shell(
        "for i in 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20; do\n"
        "  (\"$TOOL\" assess guide.mid --keep -p Ann --played-at 2026-03-27T17:00Z > out.$i 2> err.$i;\n"
        "   echo $? > code.$i) &\n"
        "done; wait; cat code.*; cat err.*");
    ASSERT_EQ(run.exitCode, 0);
    EXPECT_EQ(std::count(run.out.begin(), run.out.end(), '0') > 0, true);
    int kept = 0;
    for (int i = 1; i <= 20; ++i) {
        const std::string code = sandbox.read("code." + std::to_string(i));
        kept += code == "0\n" ? 1 : 0;
        if (code != "0\n") {
            EXPECT_NE(sandbox.read("err." + std::to_string(i)).find("in the log already"), std::string::npos)
                << sandbox.read("err." + std::to_string(i));
        }
    }
    EXPECT_EQ(kept, 1);
    EXPECT_EQ(Json::parse(sandbox.run({"take", "list", "--json"}).out).size(), 1U);
}

TEST(ConsoleAttack, TwentyFirstTakesKeptAtOnceAreAllThere) {
    const Sandbox sandbox;
    makeGuide(sandbox);
    const Ran run = sandbox.shell(
        "for i in 01 02 03 04 05 06 07 08 09 10 11 12 13 14 15 16 17 18 19 20; do\n"
        "  \"$TOOL\" assess guide.mid --keep -p Ann --played-at 2026-03-${i}T17:00Z > out.$i 2> err.$i &\n"
        "done; wait; cat err.*");
    EXPECT_EQ(run.out, "");
    EXPECT_EQ(Json::parse(sandbox.run({"take", "list", "--json"}).out).size(), 20U);
    EXPECT_EQ(sandbox.run({"log", "check"}).exitCode, 0);
}

TEST(ConsoleAttack, CheckSaysWhatALogLacks) {
    const Sandbox sandbox;
    makeGuide(sandbox);
    keep(sandbox, "Ann", "27");
    ASSERT_EQ(sandbox.run({"log", "check"}).exitCode, 0);
    SQLite::Database(sandbox.log().string(), SQLite::OPEN_READWRITE).exec("DROP TABLE segments");
    expectSaid(sandbox.run({"log", "check"}), 1, {"damaged", "segments"});
}

TEST(ConsoleAttack, DatabaseOfAnotherProgramIsNotRecovered) {
    const Sandbox sandbox;
    {
        SQLite::Database other(sandbox.file("other.sqlite").string(),
                               SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
        other.exec("CREATE TABLE meta (key, value); INSERT INTO meta VALUES ('machine', 'x');"
                   "CREATE TABLE open_takes (id); PRAGMA user_version = 4");
    }
    const std::string before = sandbox.read("other.sqlite");
    for (const char* command : {"log recover", "log check", "take list", "log info"}) {
        const Ran run = sandbox.shell(std::string("exec \"$TOOL\" ") + command + " --log other.sqlite");
        expectSaid(run, 1, {"another program"});
    }
    EXPECT_EQ(sandbox.read("other.sqlite"), before);
}

TEST(ConsoleAttack, EmptyValuesAreRefusedByEveryOption) {
    const Sandbox sandbox;
    int tried = 0;
    for (const Command& command : allCommands(sandbox)) {
        std::vector<std::string> refused = command.words;
        refused.push_back("--no-such-option");
        const std::string shown = sandbox.run(refused).err;
        for (const ValuedOption& option : valuedOptions(command.help)) {
            // What the command needs is there, so that nothing but the value is wrong.
            std::vector<std::string> line = exampleOf(shown, option);
            ASSERT_GE(line.size(), command.words.size()) << option.name;
            line.insert(line.end(), {option.name, tried % 2 == 0 ? "" : "  "});
            const Ran run = sandbox.run(line);
            EXPECT_EQ(run.exitCode, 2) << option.name << "\n" << run.out << run.err;
            const std::string refusal = run.err.substr(0, run.err.find("For example: "));
            EXPECT_NE(refusal.find(option.name), std::string::npos) << refusal;
            ++tried;
        }
    }
    EXPECT_GT(tried, 100);
    EXPECT_EQ(sandbox.run({"assess", ""}).exitCode, 2);
    EXPECT_EQ(sandbox.run({"assess", "x.mid", "-p", ""}).exitCode, 2);
    makeGuide(sandbox);
    keep(sandbox, "Ann", "27");
    EXPECT_EQ(sandbox.run({"take", "note", "1", ""}).exitCode, 0) << "an empty note takes it off";
}

TEST(ConsoleAttack, ControlCharactersOfNamesAreNeverPrinted) {
    const Sandbox sandbox;
    makeGuide(sandbox);
    const std::string player = "An\x1b[31mn\r\x07\xC2\x9B\xE2\x80\xAE\nExtra line\x7F";
    keep(sandbox, player, "27");
    keep(sandbox, "Bert", "28");
    const std::string note = "lazy\x1b]0;title\x07";
    ASSERT_EQ(sandbox.run({"take", "note", "1", note}).exitCode, 0);
    for (const std::vector<std::string>& command :
         std::vector<std::vector<std::string>>{{"take", "list"},
                                               {"take", "show", "1"},
                                               {"log", "info"},
                                               {"players"},
                                               {"players", "--brief"},
                                               {"findings", "-p", player},
                                               {"plan", "-p", player},
                                               {"next", "-p", player},
                                               {"compare", "1", "2"},
                                               {"findings", "-p", "nobody\x1b[2J"},
                                               {"take", "show", "no\x1b[2Jbody"},
                                               {"plan"},
                                               {"assess", "no\x1b[2Jfile.mid"}}) {
        const Ran run = sandbox.run(command);
        for (const std::string& text : {run.out, run.err}) {
            for (const char* raw : {"\x1b", "\r", "\x07", "\xC2\x9B", "\xE2\x80\xAE", "\x7F"})
                EXPECT_EQ(text.find(raw), std::string::npos) << command.front() << ": " << text;
            EXPECT_EQ(text.find("\nExtra line"), std::string::npos) << command.front() << ": " << text;
        }
    }
    EXPECT_EQ(Json::parse(sandbox.run({"take", "list", "--json"}).out)[0].at("player"), player)
        << "programs get it as it is";
}

TEST(ConsoleAttack, WhatACommandReadsIsNeverWrittenOver) {
    const Sandbox sandbox;
    makeGuide(sandbox);
    keep(sandbox, "Ann", "27");
    keep(sandbox, "Ann", "28");
    fs::copy_file(VALVE_LADDER_SOURCE_DIR "/Resources/parts/two-spots.musicxml", sandbox.file("in.musicxml"));
    ASSERT_EQ(sandbox.run({"drill", "make", "-o", "drill.json"}).exitCode, 0);
    fs::create_symlink("in.musicxml", sandbox.file("link.musicxml"));
    fs::create_hard_link(sandbox.file("in.musicxml"), sandbox.file("hard.musicxml"));
    const auto contents = [&] {
        return std::vector{sandbox.read("in.musicxml"), sandbox.read("drill.json"), sandbox.read("guide.mid"),
                           sandbox.read("log.sqlite")};
    };
    const auto before = contents();
    for (const char* command :
         {"mark in.musicxml -o in.musicxml", "mark ./in.musicxml -o in.musicxml",
          "mark in.musicxml -o link.musicxml", "mark link.musicxml -o in.musicxml",
          "mark in.musicxml -o hard.musicxml", "mark in.musicxml --log none.sqlite --drill 1 -o in.musicxml",
          "guide -d drill.json --bpm 60 -o drill.json", "sheet -d drill.json --bpm 60 -o drill.json",
          "drill make -o log.sqlite", "assess guide.mid --picture guide.mid", "log export -o log.sqlite",
          "compare 1 2 --csv log.sqlite", "guide --bpm 60 -o log.sqlite"})
        expectSaid(sandbox.shell(std::string("exec \"$TOOL\" ") + command), 1, {"overwrite"});
    EXPECT_EQ(contents(), before);
    EXPECT_EQ(sandbox.run({"mark", "in.musicxml", "-o", "out.musicxml"}).exitCode, 0);
    EXPECT_EQ(sandbox.run({"mark", "in.musicxml", "-o", "out.musicxml"}).exitCode, 0)
        << "an older output is replaced";
}

TEST(ConsoleAttack, WhatIsMissingIsSaidWithAnExampleThatIsUnderstood) {
    const Sandbox sandbox;
    int asked = 0;
    for (const Command& command : allCommands(sandbox)) {
        const Ran run = sandbox.run(command.words);
        if (run.exitCode != 2)
            continue; // it can do without
        ++asked;
        EXPECT_EQ(run.err.find("is required"), std::string::npos) << run.err;
        EXPECT_NE(run.err.find(" needs "), std::string::npos) << run.err;
        std::smatch example;
        const std::regex form("For example: valve-ladder (.*)\\. More: ");
        ASSERT_TRUE(std::regex_search(run.err, example, form)) << run.err;
        std::string line = example[1];
        line = line.substr(0, line.find("      "));
        const Ran tried = sandbox.shell("exec \"$TOOL\" " + line);
        EXPECT_TRUE(tried.exitCode == 0 || tried.exitCode == 1) << line << "\n" << tried.err;
    }
    EXPECT_GE(asked, 10);
    expectSaid(sandbox.run({"log"}), 2, {"info, export, merge, check, recover", "log merge"});
    expectSaid(sandbox.run({"fingering"}), 2, {"needs notes", "fingering F#3 D4"});
}

TEST(ConsoleAttack, NumbersOfTheListNameTakes) {
    const Sandbox sandbox;
    makeGuide(sandbox);
    keep(sandbox, "Ann", "27");
    keep(sandbox, "Bert", "28");
    keep(sandbox, "Ann", "29");
    const Json list = Json::parse(sandbox.run({"take", "list", "-p", "Ann", "--json"}).out);
    ASSERT_EQ(list.size(), 2U);
    EXPECT_EQ(list[0].at("number"), 1);
    EXPECT_EQ(list[1].at("number"), 3) << "the same whatever is listed";
    const std::string text = sandbox.run({"take", "list"}).out;
    EXPECT_TRUE(std::regex_search(text, std::regex("\n +3 [0-9a-f]{8} "))) << text;
    const Ran shown = sandbox.run({"take", "show", "3"});
    EXPECT_EQ(shown.exitCode, 0) << shown.err;
    EXPECT_TRUE(shown.out.starts_with("Take 3\n")) << shown.out;
    const Ran compared = sandbox.run({"compare", "1", "3"});
    EXPECT_EQ(compared.exitCode, 0) << compared.err;
    EXPECT_NE(compared.out.find("take 3, "), std::string::npos) << compared.out;
    for (const Json& take : list) {
        const std::string id = take.at("id");
        for (const std::string& said : {shown.out, compared.out})
            EXPECT_EQ(said.find(id.substr(0, 8)), std::string::npos) << said;
        EXPECT_EQ(sandbox.run({"take", "show", id.substr(0, 8)}).exitCode, 0);
    }
    expectSaid(sandbox.run({"take", "show", "99"}), 1, {"no take 99"});
}

TEST(ConsoleAttack, PartIsPrintedOnceHoweverOftenItIsRepeated) {
    const Sandbox sandbox;
    std::string bars;
    for (int number = 2; number <= 100; ++number)
        bars += "</measure><measure number=\"" + std::to_string(number) +
                "\"><note><rest/><duration>8</duration></note>";
    const auto pages = [&](const std::string& barline, std::vector<std::string> how) {
        sandbox.write("part.musicxml", shortScore(bars + barline));
        how.insert(how.begin(), {"--json", "mark", "part.musicxml", "--spots", "0", "-o", "part.svg"});
        const Ran run = sandbox.run(how);
        EXPECT_EQ(run.exitCode, 0) << run.err;
        return Json::parse(run.out)["files"].size();
    };
    const std::string endless = "<barline><repeat direction=\"backward\" times=\"64\"/></barline>";
    const std::size_t once = pages("", {});
    EXPECT_GE(once, 1U);
    EXPECT_EQ(pages(endless, {}), once);
    EXPECT_EQ(pages(endless, {"--printed"}), once);
    for (int more = 0; more < 6; ++more)
        bars += bars; // 6,337 bars
    sandbox.write("long.musicxml", shortScore(bars));
    expectSaid(sandbox.run({"mark", "long.musicxml", "-o", "long.pdf"}), 1, {"6337 bars", "5000"});
    EXPECT_FALSE(fs::exists(sandbox.file("long.pdf")));
}

} // namespace valveladder
