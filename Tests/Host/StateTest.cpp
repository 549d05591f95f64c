#include "Plugin/State.h"

#include "Base/Version.h"
#include "Host/TempLog.h"
#include "Plugin/Processor.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <random>
#include <sstream>

namespace valveladder::host {

namespace {

PluginState unusualState() {
    PluginState state;
    state.config.player = "J\xC3\xB6rg";
    state.config.instrument = *findInstrument("euphonium-4-compensating-treble");
    state.config.drill = defaultDrill(state.config.instrument);
    state.config.drill.countInBars = 2;
    state.config.rules.startBpm = 72.0;
    state.config.rules.stepPerTake = 1.5;
    state.config.pedals = {{35, -1}, {36, 64}, {-1, 67}};
    state.config.roundTripMs = 17.25;
    state.config.keepSound = {true, 750, true};
    state.config.daily = DailyDrill{"tuba-b-flat-4", defaultDrill(*findInstrument("tuba-b-flat-4")), {}};
    state.parameters = {{"start-bar", 5.0}, {"own-tempo", 66.5}};
    return state;
}

std::string readFile(const std::filesystem::path& path) {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

void expectRefused(const std::string& text, const std::string& word) {
    const auto read = stateFromText(text);
    ASSERT_FALSE(read.ok()) << text;
    EXPECT_NE(read.problem().text().find(word), std::string::npos) << read.problem().text();
}

std::string changed(const std::function<void(nlohmann::json&)>& change) {
    auto object = nlohmann::json::parse(toStateText(unusualState()));
    change(object);
    return object.dump();
}

} // namespace

TEST(State, WhatIsWrittenIsReadBack) {
    const PluginState state = unusualState();
    const auto read = stateFromText(toStateText(state));
    ASSERT_TRUE(read.ok()) << read.problem().text();
    EXPECT_EQ(read.value(), state);
}

TEST(State, DefaultIsReadBack) {
    const auto read = stateFromText(toStateText({}));
    ASSERT_TRUE(read.ok()) << read.problem().text();
    EXPECT_EQ(read.value(), PluginState{});
}

TEST(State, FixturesOfEveryOlderVersionStillOpen) {
    const std::filesystem::path folder = std::filesystem::path(VALVE_LADDER_HOST_TESTS) / "fixtures";
    for (int version = 1; version <= stateVersion; ++version) {
        const auto path = folder / ("state-v" + std::to_string(version) + ".json");
        ASSERT_TRUE(std::filesystem::exists(path)) << path;
        const auto read = stateFromText(readFile(path));
        ASSERT_TRUE(read.ok()) << path << ": " << read.problem().text();
        PluginState expected = unusualState();
        expected.config.daily.reset(); // came later, as a member that may be absent
        if (version == 1) {
            // These came later, as members that may be absent.
            expected.config.keepSound = {};
            expected.config.pedals.start = expected.config.pedals.repeat = {};
            // Their daily ladder went up only, and stays so.
            std::get<LadderPattern>(expected.config.drill.pattern).shape = Shape::up;
        } else {
            expected.parameters.insert({{"own-sound", 1.0}, {"guide-tone", 2.0}, {"click-level", -20.0}});
        }
        EXPECT_EQ(read.value(), expected) << path;
    }
}

TEST(State, ProcessorBringsEveryOlderVersionUpToDate) {
    const std::filesystem::path folder = std::filesystem::path(VALVE_LADDER_HOST_TESTS) / "fixtures";
    for (int version = 1; version <= stateVersion; ++version) {
        const TempLog log;
        const std::string old = readFile(folder / ("state-v" + std::to_string(version) + ".json"));
        Processor processor;
        processor.setStateInformation(old.data(), static_cast<int>(old.size()));
        juce::MemoryBlock kept;
        processor.getStateInformation(kept);
        const std::string text(static_cast<const char*>(kept.getData()), kept.getSize());
        const auto written = nlohmann::json::parse(text);
        EXPECT_EQ(written.at("version"), stateVersion);
        EXPECT_EQ(written.at("program"), programVersion());
        EXPECT_EQ(stateFromText(text).value().config, stateFromText(old).value().config) << version;
    }
}

TEST(State, AbsentMembersTakeDefaults) {
    const auto read = stateFromText(R"({"format": "valve-ladder-state", "version": 1})");
    ASSERT_TRUE(read.ok()) << read.problem().text();
    EXPECT_EQ(read.value(), PluginState{});
}

TEST(State, FromNowhereIsRefusedWithWords) {
    expectRefused("", "cut off");
    expectRefused("<state/>", "cut off");
    expectRefused("[]", "not a state of Valve Ladder");
    expectRefused("{}", "not a state of Valve Ladder");
    expectRefused(R"({"format": "something-else", "version": 1})", "not a state of Valve Ladder");
    expectRefused(R"({"format": 7, "version": 1})", "not a state of Valve Ladder");
    expectRefused(R"({"format": "valve-ladder-state"})", "version is missing");
    expectRefused(R"({"format": "valve-ladder-state", "version": "1"})", "version is missing");
    expectRefused(R"({"format": "valve-ladder-state", "version": 0})", "version is missing");
}

TEST(State, NewerIsRefusedWithWords) {
    expectRefused(changed([](auto& object) { object["version"] = stateVersion + 1; }), "newer version");
}

TEST(State, WrongTypesAreRefusedByName) {
    expectRefused(changed([](auto& object) { object["player"] = 3; }), "player");
    expectRefused(changed([](auto& object) { object["drill"] = "none"; }), "drill");
    expectRefused(changed([](auto& object) { object["instrument"] = 3; }), "instrument");
    expectRefused(changed([](auto& object) { object["rules"] = false; }), "rules");
    expectRefused(changed([](auto& object) { object["mark"] = 60; }), "mark");
    expectRefused(changed([](auto& object) { object["mark"]["note"] = "C"; }), "note");
    expectRefused(changed([](auto& object) { object["parameters"] = 1; }), "parameters");
    expectRefused(changed([](auto& object) { object["parameters"]["guide"] = "on"; }), "parameters/guide");
    expectRefused(changed([](auto& object) { object["roundTripMs"] = "long"; }), "roundTripMs");
    expectRefused(changed([](auto& object) { object["keepSound"] = true; }), "keepSound");
    expectRefused(changed([](auto& object) { object["keepSound"]["limitMb"] = "much"; }), "limitMb");
}

TEST(State, OutOfRangeIsRefusedWithWords) {
    expectRefused(changed([](auto& object) { object["player"] = ""; }), "player");
    expectRefused(changed([](auto& object) { object["roundTripMs"] = -1.0; }), "round");
    expectRefused(changed([](auto& object) { object["mark"]["note"] = 200; }), "a pedal's note");
    expectRefused(changed([](auto& object) { object["keepSound"]["limitMb"] = 1; }), "keepSound");
}

TEST(State, CutOffAnywhereIsRefused) {
    const std::string whole = toStateText(unusualState());
    for (std::size_t length = 0; length + 1 < whole.size(); ++length)
        ASSERT_FALSE(stateFromText(std::string_view(whole).substr(0, length)).ok()) << length;
}

TEST(State, RandomDamageNeverCrashes) {
    const std::string whole = toStateText(unusualState());
    const unsigned seed = 20240229;
    SCOPED_TRACE(seed);
    std::mt19937 random(seed);
    std::uniform_int_distribution<std::size_t> place(0, whole.size() - 1);
    std::uniform_int_distribution<int> byte(0, 255);
    int refused = 0;
    for (int round = 0; round < 3000; ++round) {
        std::string damaged = whole;
        for (int i = 0; i < 1 + round % 5; ++i)
            damaged[place(random)] = static_cast<char>(byte(random));
        if (!stateFromText(damaged))
            ++refused;
    }
    EXPECT_GT(refused, 1000);
}

TEST(State, DeepNestingAndHugeTextAreRefused) {
    EXPECT_FALSE(stateFromText(std::string(200000, '[')).ok());
    EXPECT_FALSE(stateFromText(std::string(maxStateBytes + 1, ' ')).ok());
}

TEST(State, RefusedStateKeepsWhatWasThereAndSaysSo) {
    const TempLog log;
    Processor processor;
    processor.setStateInformation("garbage", 7);
    processor.setStateInformation(nullptr, 0);
    EXPECT_EQ(processor.config(), SessionConfig{});
    const auto view = processor.startedWorker().view();
    ASSERT_NE(view, nullptr);
    ASSERT_FALSE(view->messages.empty());
    EXPECT_TRUE(view->messages.front().trouble);
    EXPECT_NE(view->messages.front().text.find("state"), std::string::npos);
}

TEST(State, ProcessorGivesAndTakesIt) {
    const TempLog log;
    const std::string text = toStateText(unusualState());
    Processor first;
    first.setStateInformation(text.data(), static_cast<int>(text.size()));
    EXPECT_EQ(first.config(), unusualState().config);
    juce::MemoryBlock kept;
    first.getStateInformation(kept);
    const auto read = stateFromText({static_cast<const char*>(kept.getData()), kept.getSize()});
    ASSERT_TRUE(read.ok());
    EXPECT_EQ(read.value().config, unusualState().config);
    EXPECT_EQ(read.value().parameters.at("start-bar"), 5.0);
}

} // namespace valveladder::host
