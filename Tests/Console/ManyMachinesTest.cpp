// A school's archive heard in shards by GNU parallel and merged. The sound is a made-up brass synthesis, not
// a player.
#include "RunTool.h"
#include "Support/BrassSynth.h"
#include "Support/Settings.h"

#include "Files/SoundFile.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>
#include <sys/resource.h>

#include <chrono>
#include <cstdio>
#include <map>

namespace valveladder {

using consoletest::Ran;
using consoletest::Sandbox;
using Json = nlohmann::json;

namespace {

constexpr double bpm = 96.0;
constexpr double rate = 22050.0;
constexpr int shards = 4;
constexpr std::int64_t takesOfAPlayer = 5;

/// One rung once: a few seconds, so that many takes of it can be heard.
void writeDrill(const Sandbox& sandbox) {
    ASSERT_EQ(sandbox
                  .run({"drill", "make", "--foot", "F#3", "--top", "C4", "--last-top", "C4", "--segments",
                        "1", "--repeats", "1", "-o", "drill.json"})
                  .exitCode,
              0);
}

Drill drillOf() {
    Drill drill = defaultDrill(catalogue().front());
    auto& ladder = std::get<LadderPattern>(drill.pattern);
    ladder.firstTop = ladder.lastTop = 60;
    drill.segments.resize(1);
    drill.repeats = 1;
    return drill;
}

/// archive/PLAYER/TAKE.flac, each take another one, some with faults, each at a time of its own.
void writeArchive(const Sandbox& sandbox, std::int64_t takes) {
    const Score score = buildScore(drillOf(), catalogue().front(), bpm).value();
    testing::PlanStyle style;
    style.minChangeoverMs = 25.0;
    style.maxChangeoverMs = 60.0;
    const auto first = std::filesystem::file_time_type::clock::now() - std::chrono::hours(24 * 30);
    for (std::int64_t i = 0; i < takes; ++i) {
        testing::PlanFaults faults;
        faults.wrong = i % 7 == 3 ? 1 : 0;
        const auto seed = static_cast<std::uint32_t>(1000 + i);
        const auto take = testing::renderBrass(testing::planTake(score, bpm, style, faults, seed),
                                               testing::trumpetVoice(), seed, rate);
        const auto folder = sandbox.file("archive/player-" + std::to_string(i / takesOfAPlayer));
        std::filesystem::create_directories(folder);
        const auto path = folder / (std::to_string(i) + ".flac");
        ASSERT_TRUE(writeSound(path, take.samples, take.rate).ok());
        std::filesystem::last_write_time(path, first + std::chrono::minutes(7 * i));
    }
}

/// Every take by its id, as a log's export has it, but for the log that each was first written to.
std::map<std::string, Json> takesOf(const Sandbox& sandbox, const std::string& log) {
    const Ran run = sandbox.run({"--json", "log", "export", "--log", log});
    EXPECT_EQ(run.exitCode, 0) << run.err;
    std::map<std::string, Json> takes;
    const Json all = Json::parse(run.out);
    for (Json take : all.at("takes")) {
        take.erase("machine");
        takes[take.at("id").get<std::string>()] = take;
    }
    return takes;
}

void must(const Sandbox& sandbox, const std::string& script) {
    const Ran run = sandbox.shell("set -e\n" + script);
    ASSERT_EQ(run.exitCode, 0) << script << "\n" << run.err;
}

double processorSeconds() {
    rusage used{};
    getrusage(RUSAGE_CHILDREN, &used);
    const auto seconds = [](const timeval& time) {
        return static_cast<double>(time.tv_sec) + static_cast<double>(time.tv_usec) * 1e-6;
    };
    return seconds(used.ru_utime) + seconds(used.ru_stime);
}

const char* const hearing = "assess {} -d drill.json --player {/} --keep --as-played -j 1";

} // namespace

TEST(ManyMachines, FourShardsMergedEqualOneRunInAnyOrderAndTwice) {
    const Sandbox sandbox;
    if (sandbox.shell("command -v parallel").exitCode != 0)
        GTEST_SKIP() << "GNU parallel is not installed";
    const bool full = std::getenv("VALVE_LADDER_FULL") != nullptr;
    const std::int64_t takes = test::setting("VALVE_LADDER_TAKES", full ? 1000 : 40);
    writeDrill(sandbox);
    writeArchive(sandbox, takes);
    const std::string players = "find archive -mindepth 1 -maxdepth 1 -type d | sort | ";

    const double before = processorSeconds();
    must(sandbox, players + "parallel --will-cite -j " + std::to_string(shards) + " \"$TOOL\" " + hearing +
                      " --log shard-{%}.sqlite >shards.txt");
    const double used = processorSeconds() - before;
    must(sandbox, players + "parallel --will-cite -j 1 \"$TOOL\" " + hearing + " --log one.sqlite >one.txt");
    const auto one = takesOf(sandbox, "one.sqlite");
    EXPECT_EQ(std::ssize(one), takes);

    must(sandbox, "for s in shard-1 shard-2 shard-3 shard-4; do \"$TOOL\" log merge $s.sqlite --log "
                  "there.sqlite; done");
    must(sandbox, "for s in shard-3 shard-1 shard-4 shard-2 shard-3; do \"$TOOL\" log merge $s.sqlite --log "
                  "back.sqlite; done");
    EXPECT_EQ(takesOf(sandbox, "there.sqlite"), one);
    EXPECT_EQ(takesOf(sandbox, "back.sqlite"), one);

    // A shard that was heard again, on another machine, brings nothing new.
    must(sandbox, "echo archive/player-0 | parallel --will-cite \"$TOOL\" " + std::string(hearing) +
                      " --log again.sqlite >again.txt");
    const Ran again = sandbox.run({"--json", "log", "merge", "again.sqlite", "--log", "there.sqlite"});
    EXPECT_EQ(Json::parse(again.out).at("added"), 0) << again.out;
    EXPECT_EQ(Json::parse(again.out).at("known"), takesOfAPlayer) << again.out;
    EXPECT_EQ(takesOf(sandbox, "there.sqlite"), one);
    EXPECT_EQ(sandbox.run({"log", "check", "--log", "there.sqlite"}).exitCode, 0);

    std::printf("%lld takes of some seconds in four shards: %.1f s of processor, %.0f takes an hour a core\n",
                static_cast<long long>(takes), used, static_cast<double>(takes) * 3600.0 / used);
}

TEST(ManyMachines, ATakeBearsTheSameIdWhoeverHearsIt) {
    const Sandbox sandbox;
    writeDrill(sandbox);
    writeArchive(sandbox, 2);
    std::vector<std::string> ids;
    for (const char* file : {"archive/player-0/0.flac", "archive/player-0/0.flac", "archive/player-0/1.flac"})
        ids.push_back(Json::parse(sandbox
                                      .run({"--json", "assess", file, "-d", "drill.json", "--player", "Ann",
                                            "--played-at", "2026-11-29T10:00Z"})
                                      .out)
                          .at("take")
                          .at("id"));
    EXPECT_EQ(ids[0], ids[1]);
    EXPECT_NE(ids[0], ids[2]) << "another recording";
    EXPECT_EQ(ids[0][14], '5'); // version, RFC 9562 section 5.5
    const Json other =
        Json::parse(sandbox
                        .run({"--json", "assess", "archive/player-0/0.flac", "-d", "drill.json", "--player",
                              "Bea", "--played-at", "2026-11-29T10:00Z"})
                        .out);
    EXPECT_NE(ids[0], other.at("take").at("id")) << "another player";
}

TEST(ManyMachines, AsPlayedLeavesTheLogsPlanOut) {
    const Sandbox sandbox;
    writeDrill(sandbox);
    writeArchive(sandbox, 1);
    const Json take = Json::parse(sandbox
                                      .run({"--json", "assess", "archive/player-0/0.flac", "-d", "drill.json",
                                            "--player", "Ann", "--as-played"})
                                      .out)
                          .at("take");
    EXPECT_EQ(take.at("plannedBpm"), take.at("playedBpm"));
    EXPECT_TRUE(take.at("messages").empty());
}

} // namespace valveladder
