#include "RunTool.h"

#include "Base/Version.h"
#include "Log/LogStore.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <fstream>
#include <iterator>

namespace valveladder {

using consoletest::Ran;
using consoletest::Sandbox;
using nlohmann::json;

namespace {

/// The kept log of an earlier schema becomes the sandbox's log.
void putLogOfVersion(const Sandbox& sandbox, int version) {
    std::ifstream file(VALVE_LADDER_SOURCE_DIR "/Tests/Log/fixtures/version-" + std::to_string(version) +
                       ".sql");
    const std::string sql{std::istreambuf_iterator<char>(file), {}};
    ASSERT_FALSE(sql.empty()) << version;
    SQLite::Database(sandbox.log().string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE).exec(sql);
}

int schemaOf(const Sandbox& sandbox) {
    return SQLite::Database(sandbox.log().string(), SQLite::OPEN_READONLY)
        .execAndGet("PRAGMA user_version")
        .getInt();
}

json takesOf(const Sandbox& sandbox) {
    const Ran run = sandbox.run({"--json", "log", "export"});
    EXPECT_EQ(run.exitCode, 0) << run.err;
    return json::parse(run.out).at("takes");
}

} // namespace

TEST(ToolUpgrade, LogsOfEveryVersionAreReadAsTheyAreAndUpgradedWhenWrittenTo) {
    for (int version = 1; version <= LogStore::schemaVersion; ++version) {
        SCOPED_TRACE(version);
        const Sandbox sandbox;
        putLogOfVersion(sandbox, version);
        const json before = takesOf(sandbox);
        EXPECT_GE(before.size(), 2U);
        for (const auto& command : {std::vector<std::string>{"log", "check"}, {"take", "list"}, {"players"}})
            EXPECT_EQ(sandbox.run(command).exitCode, 0) << command.front();
        EXPECT_EQ(schemaOf(sandbox), version) << "reading alone changed it";
        EXPECT_EQ(json::parse(sandbox.run({"--json", "log", "info"}).out).at("schema"), version);

        ASSERT_EQ(
            sandbox.run({"drill", "make", "--cells", "C4 D4 E4", "--repeats", "1", "-o", "d.json"}).exitCode,
            0);
        ASSERT_EQ(sandbox.run({"guide", "-d", "d.json", "--bpm", "60", "-o", "g.mid"}).exitCode, 0);
        const Ran kept = sandbox.run({"assess", "g.mid", "-d", "d.json", "--keep", "--invented", "--player",
                                      "Invented Ina", "--played-at", "2026-11-29T10:00:00Z"});
        ASSERT_EQ(kept.exitCode, 0) << kept.err;
        EXPECT_EQ(schemaOf(sandbox), LogStore::schemaVersion);
        json after = takesOf(sandbox);
        ASSERT_EQ(after.size(), before.size() + 1);
        EXPECT_EQ(json::parse(sandbox.run({"--json", "log", "info"}).out).at("program"), programVersion());
        after.erase(after.size() - 1);
        json expected = before;
        if (version == 1) // logs had no name of their own yet: one was given in reading, and one for good
            for (std::size_t i = 0; i < expected.size(); ++i)
                expected[i]["machine"] = after[i].at("machine");
        EXPECT_EQ(after, expected);
    }
}

TEST(ToolUpgrade, LogInfoSaysWhichVersionWroteLast) {
    const Sandbox sandbox;
    putLogOfVersion(sandbox, 4);
    const Ran run = sandbox.run({"log", "info"});
    EXPECT_NE(run.out.find("written last by Valve Ladder before 0.2\n"), std::string::npos) << run.out;
    ASSERT_EQ(sandbox.run({"take", "note", "1", "oil"}).exitCode, 0);
    EXPECT_NE(sandbox.run({"log", "info"}).out.find("by Valve Ladder " + std::string(programVersion())),
              std::string::npos);
}

} // namespace valveladder
