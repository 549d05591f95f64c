// Sound takes through the console tool. The sound is a made-up brass synthesis, not a player.
#include "RunTool.h"
#include "Support/BrassSynth.h"

#include "Files/SoundFile.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>
#include <pugixml.hpp>

#include <fstream>

namespace valveladder {

using consoletest::linesOver;
using consoletest::Ran;
using consoletest::Sandbox;
using Json = nlohmann::json;

namespace {

/// One rung of the trumpet's daily ladder.
const std::vector<std::string> oneRung{"--foot", "F#3", "--top", "C4", "--last-top", "C4"};
constexpr double bpm = 96.0;
constexpr double rate = 22050.0;

std::vector<std::string> assess(const std::string& file, std::vector<std::string> more = {}) {
    std::vector<std::string> words{"assess", file};
    words.insert(words.end(), oneRung.begin(), oneRung.end());
    words.insert(words.end(), more.begin(), more.end());
    return words;
}

Score rungScore() {
    Drill drill = defaultDrill(catalogue().front());
    auto& ladder = std::get<LadderPattern>(drill.pattern);
    ladder.foot = 54;
    ladder.firstTop = ladder.lastTop = 60;
    return buildScore(drill, catalogue().front(), bpm).value();
}

testing::SoundTake played(const testing::PlanFaults& faults, std::uint32_t seed = 3) {
    testing::PlanStyle style;
    style.minChangeoverMs = 25.0;
    style.maxChangeoverMs = 60.0;
    const Score score = rungScore();
    return testing::renderBrass(testing::planTake(score, bpm, style, faults, seed), testing::trumpetVoice(),
                                seed, rate);
}

void write(const Sandbox& sandbox, const std::string& name, const testing::SoundTake& take) {
    ASSERT_TRUE(writeSound(sandbox.file(name), take.samples, take.rate).ok());
}

Json jsonOf(const Ran& run) {
    EXPECT_EQ(run.exitCode, 0) << run.err;
    return run.exitCode == 0 ? Json::parse(run.out) : Json{};
}

/// As NAME.csv beside a sound.
void annotate(const Sandbox& sandbox, const std::string& name, const testing::SoundTake& take) {
    std::string csv = "onset,offset,pitch\n";
    for (const testing::TrueNote& note : take.truth.notes)
        csv += std::to_string(note.onset) + "," + std::to_string(note.offset) + "," +
               std::to_string(note.midi) + "\n";
    sandbox.write(name, csv);
}

} // namespace

TEST(ToolSound, RoundTripOutOfRangeIsRefusedByOneCheck) {
    const Sandbox sandbox;
    write(sandbox, "take.wav", played({}));
    for (const char* ms : {"-1500", "1500"}) {
        const Ran run = sandbox.run(assess("take.wav", {"--round-trip", ms}));
        EXPECT_EQ(run.exitCode, 1) << run.out;
        EXPECT_NE(run.err.find("--round-trip"), std::string::npos) << run.err;
        EXPECT_NE(run.err.find("-1000 to 1000 ms"), std::string::npos) << run.err;
    }
    EXPECT_EQ(sandbox.run(assess("take.wav", {"--round-trip", "-300"})).exitCode, 0);
}

TEST(ToolSound, TakeIsHeardWithTempoAndStartFoundByItself) {
    const Sandbox sandbox;
    write(sandbox, "take.wav", played({}));
    const Json take = jsonOf(sandbox.run(assess("take.wav", {"--json"}))).at("take");
    EXPECT_NEAR(take.at("playedBpm").get<double>(), bpm, 0.5);
    EXPECT_EQ(take.at("state"), "whole");
    int right = 0;
    for (const Json& note : take.at("performance").at("notes"))
        right += note.at("outcome") == "right" ? 1 : 0;
    EXPECT_EQ(right, static_cast<int>(rungScore().notes.size()));
}

TEST(ToolSound, WrongAndMissedNotesAreNamedAndChangeoversTold) {
    const Sandbox sandbox;
    write(sandbox, "take.flac", played({0.0, 1, 1, 0, 0}));
    const Ran run = sandbox.run(assess("take.flac", {"--bpm", "96"}));
    ASSERT_EQ(run.exitCode, 0) << run.err;
    EXPECT_NE(run.out.find(" missed, "), std::string::npos) << run.out;
    EXPECT_NE(run.out.find(" expected, "), std::string::npos) << run.out;
    EXPECT_NE(run.out.find(" % sure\n"), std::string::npos) << run.out;
    EXPECT_NE(run.out.find("Slowest changes"), std::string::npos) << run.out;
    EXPECT_EQ(linesOver(run.out, 80), std::vector<std::string>());
}

TEST(ToolSound, ChannelOfManyIsHeardAlone) {
    const Sandbox sandbox;
    const testing::SoundTake take = played({});
    // Two channels as raw samples in a WAV of 16 bits: hum on the first, the take on the second.
    std::string data;
    const auto put = [&](std::uint32_t value, int bytes) {
        for (int i = 0; i < bytes; ++i)
            data += static_cast<char>(value >> (8 * i));
    };
    const auto frames = static_cast<std::uint32_t>(take.samples.size());
    data = "RIFF";
    put(36 + frames * 4, 4);
    data += "WAVEfmt ";
    put(16, 4);
    put(1, 2);
    put(2, 2);
    put(static_cast<std::uint32_t>(rate), 4);
    put(static_cast<std::uint32_t>(rate) * 4, 4);
    put(4, 2);
    put(16, 2);
    data += "data";
    put(frames * 4, 4);
    for (std::uint32_t i = 0; i < frames; ++i) {
        put(static_cast<std::uint32_t>(static_cast<std::int32_t>(9000.0 * std::sin(i * 0.08))) & 0xFFFFU, 2);
        put(static_cast<std::uint32_t>(static_cast<std::int32_t>(32000.0F * take.samples[i])) & 0xFFFFU, 2);
    }
    sandbox.write("two.wav", data);
    const Json heard = jsonOf(sandbox.run(assess("two.wav", {"--channel", "2", "--json"}))).at("take");
    EXPECT_EQ(heard.at("performance").at("extras").size(), 0u);
    const Ran absent = sandbox.run(assess("two.wav", {"--channel", "3"}));
    EXPECT_EQ(absent.exitCode, 1);
    EXPECT_NE(absent.err.find("the file has 2"), std::string::npos) << absent.err;
}

TEST(ToolSound, FolderOfTakesIsHeardBySeveralWorkersWithProgress) {
    const Sandbox sandbox;
    std::filesystem::create_directory(sandbox.file("takes"));
    write(sandbox, "takes/one.wav", played({}, 3));
    write(sandbox, "takes/two.wav", played({0.0, 1, 0, 0, 0}, 4));
    sandbox.write("takes/three.wav", "This is no sound.");
    const Ran run = sandbox.run(assess("takes", {"-j", "2", "--picture", "pictures"}));
    ASSERT_EQ(run.exitCode, 0) << run.err;
    EXPECT_NE(run.err.find("3 of 3 files done"), std::string::npos) << run.err;
    EXPECT_NE(run.err.find("three.wav: this is no sound file"), std::string::npos) << run.err;
    EXPECT_LT(run.out.find("one.wav"), run.out.find("two.wav"));
    EXPECT_NE(run.out.find("not heard"), std::string::npos);
    EXPECT_EQ(linesOver(run.out, 80), std::vector<std::string>());
    EXPECT_TRUE(std::filesystem::exists(sandbox.file("pictures/one.wav.svg")));
    const Json all = jsonOf(sandbox.run(assess("takes", {"--json", "--keep", "--player", "Ann"})));
    ASSERT_EQ(all.size(), 3u);
    EXPECT_EQ(all[0].at("kept"), true);
    EXPECT_EQ(all[1].at("kept"), false);
    EXPECT_TRUE(all[1].contains("problem"));
    EXPECT_EQ(jsonOf(sandbox.run({"take", "list", "--json"})).size(), 2u);
}

TEST(ToolSound, PictureHoldsADotForEveryNoteAndABarForEveryChangeover) {
    const Sandbox sandbox;
    write(sandbox, "take.wav", played({0.0, 0, 1, 0, 0}));
    ASSERT_EQ(sandbox.run(assess("take.wav", {"--bpm", "96", "--picture", "take.svg"})).exitCode, 0);
    const Json take = jsonOf(sandbox.run(assess("take.wav", {"--bpm", "96", "--json"}))).at("take");
    std::size_t right = 0;
    for (const Json& note : take.at("performance").at("notes"))
        right += note.at("outcome") == "right" ? 1U : 0U;
    std::size_t changeovers = 0;
    for (const Json& change : take.at("performance").at("changes"))
        changeovers += change.contains("changeoverMs") && change.at("changeoverMs").is_number() ? 1U : 0U;
    pugi::xml_document svg;
    ASSERT_TRUE(svg.load_file(sandbox.file("take.svg").c_str()));
    EXPECT_EQ(svg.select_nodes("//circle[title]").size(), right);
    EXPECT_EQ(svg.select_nodes("//rect[title]").size(), changeovers);
    EXPECT_EQ(svg.select_nodes("//path[contains(title,'missed')]").size(), 1u);
    EXPECT_GT(changeovers, 10u);
}

TEST(ToolSound, SilentEmptyAndUnfittingSoundsAreSaid) {
    const Sandbox sandbox;
    testing::SoundTake silent;
    silent.samples.assign(44100, 0.0F);
    write(sandbox, "silent.wav", silent);
    sandbox.write("empty.wav", "");
    for (const auto& [name, said] : {std::pair{"silent.wav", "silent"}, std::pair{"empty.wav", "empty"},
                                     std::pair{"absent.wav", "no such file"}}) {
        const Ran run = sandbox.run(assess(name));
        EXPECT_EQ(run.exitCode, 1);
        EXPECT_NE(run.err.find(said), std::string::npos) << run.err;
        EXPECT_NE(run.err.find(name), std::string::npos) << run.err;
    }
    EXPECT_EQ(sandbox.run(assess("silent.wav", {"--start", "4"})).exitCode, 1);
    EXPECT_EQ(sandbox.run(assess("silent.wav", {"-j", "0"})).exitCode, 1);
}

TEST(ToolEvaluate, AnnotatedRecordingsAreScoredInATable) {
    const Sandbox sandbox;
    std::filesystem::create_directories(sandbox.file("set/annotations"));
    const testing::SoundTake take = played({});
    write(sandbox, "set/one.wav", take);
    annotate(sandbox, "set/annotations/one_notes.csv", take);
    write(sandbox, "set/unmarked.wav", take);
    const Json all = jsonOf(sandbox.run({"evaluate", "set", "--json"}));
    ASSERT_EQ(all.at("recordings").size(), 1u);
    EXPECT_EQ(all.at("all").at("notes"), rungScore().notes.size());
    EXPECT_GE(all.at("all").at("noteF").get<double>(), 0.99);
    const Ran run = sandbox.run({"evaluate", "set"});
    EXPECT_NE(run.out.find("| one.wav |"), std::string::npos) << run.out;
    EXPECT_NE(run.out.find("| all |"), std::string::npos);
    EXPECT_EQ(sandbox.run({"evaluate", "set/annotations"}).exitCode, 1);
    sandbox.write("set/annotations/one_notes.csv", "onset,offset,pitch\n1.0,0.5,60\n");
    const Ran bad = sandbox.run({"evaluate", "set"});
    EXPECT_EQ(bad.exitCode, 1);
    EXPECT_NE(bad.err.find("line 2"), std::string::npos) << bad.err;
}

} // namespace valveladder
