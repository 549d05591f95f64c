// The built plugin under the calls that hosts and plugin validators make: every rate and block, tempo maps,
// loops of a beat, faster than real time, several at once, state and parameters from other threads, prepared
// again and again.

#include "Host/DefaultScore.h"
#include "Host/ExpectedGuide.h"
#include "Host/HostRig.h"
#include "Host/TempLog.h"

#include <gtest/gtest.h>

#include <atomic>
#include <cmath>
#include <cstdlib>
#include <random>
#include <thread>

namespace valveladder::host {

namespace {

class HostCalls : public testing::TestWithParam<Format> {
protected:
    void SetUp() override {
        if (!std::filesystem::exists(builtPlugin(GetParam())))
            GTEST_SKIP() << "this build has no " << builtPlugin(GetParam());
    }
    static std::unique_ptr<HostRig> load(double rate = 48000.0, int samples = 512) {
        std::string error;
        auto rig = HostRig::load(GetParam(), rate, samples, error);
        EXPECT_NE(rig, nullptr) << error;
        return rig;
    }
    static void expectScore(HostRig& rig) {
        rig.playing = false;
        rig.run(16);
        const auto expected = expectedNotes(defaultScore(), rig.told());
        const auto sent = sentNotes(rig.sent(), 1);
        ASSERT_FALSE(expected.empty());
        ASSERT_EQ(sent.size(), expected.size());
        for (std::size_t i = 0; i < sent.size(); ++i) {
            ASSERT_EQ(sent[i].pitch, expected[i].pitch) << "note " << i;
            ASSERT_NEAR(static_cast<double>(sent[i].on), static_cast<double>(expected[i].on), 1.0);
            ASSERT_NEAR(static_cast<double>(sent[i].off), static_cast<double>(expected[i].off), 1.0);
        }
    }
    /// Tempo steps, meters, a tempo in eighths and a ramp, as hosts tell them block by block.
    static void playSong(HostRig& rig, int samples) {
        rig.ppq = 0.0;
        rig.bpm = 180.0;
        rig.meterBeats = 3;
        rig.rollTo(6.0, samples);
        rig.bpm = 240.0;
        rig.rollTo(12.0, samples);
        rig.meterBeats = 7;
        rig.meterUnit = 8;
        rig.bpm = 200.0;
        rig.rollTo(19.0, samples);
        rig.meterBeats = rig.meterUnit = 4;
        for (; rig.ppq < 24.0; rig.bpm += 4.0 * samples / rig.sampleRate())
            rig.run(samples);
    }

    TempLog log;
};

std::vector<double> rates() {
    if (std::getenv("VALVE_LADDER_FULL") != nullptr)
        return {44100.0, 48000.0, 88200.0, 96000.0, 176400.0, 192000.0};
    return {44100.0, 192000.0};
}

std::vector<int> blocks() {
    if (std::getenv("VALVE_LADDER_FULL") != nullptr)
        return {16, 32, 64, 128, 256, 441, 512, 1024, 2048, 4096, 8192};
    return {16, 441, 8192};
}

} // namespace

TEST_P(HostCalls, EveryRateAndBlockPlaysTheScoreThroughATempoMap) {
    for (const double rate : rates())
        for (const int samples : blocks()) {
            SCOPED_TRACE(testing::Message() << rate << " Hz, " << samples << " samples");
            const auto rig = load(rate, samples);
            ASSERT_NE(rig, nullptr);
            playSong(*rig, samples);
            ASSERT_NO_FATAL_FAILURE(expectScore(*rig));
        }
}

TEST_P(HostCalls, LoopsOfOneBeatPlayEachPass) {
    for (const int samples : {16, 512, 8192}) {
        const auto rig = load(48000.0, samples);
        rig->bpm = 150.0;
        rig->loop(6.0, 7.0, 12, samples);
        ASSERT_NO_FATAL_FAILURE(expectScore(*rig));
    }
}

TEST_P(HostCalls, FasterThanRealTimeLosesNothing) {
    const auto rig = load(48000.0, 1024);
    rig->plugin().setNonRealtime(true);
    rig->recording = true;
    playSong(*rig, 1024);
    ASSERT_NO_FATAL_FAILURE(expectScore(*rig));
}

TEST_P(HostCalls, VarispeedIsFollowed) {
    const auto rig = load(44100.0, 256);
    rig->playing = true;
    for (int i = 0; rig->ppq < 20.0; ++i) {
        rig->bpm = 140.0 * (1.0 + 0.3 * std::sin(i * 0.01));
        rig->run(256);
    }
    ASSERT_NO_FATAL_FAILURE(expectScore(*rig));
}

TEST_P(HostCalls, SeveralInstancesPlayEachItsPlace) {
    std::vector<std::unique_ptr<HostRig>> rigs;
    for (int i = 0; i < 6; ++i) {
        rigs.push_back(load(48000.0, 256));
        rigs.back()->bpm = 160.0 + 10.0 * i;
        rigs.back()->ppq = 4.0 * i;
    }
    for (int turn = 0; turn < 1500; ++turn)
        for (auto& rig : rigs) {
            rig->playing = true;
            rig->run(256);
        }
    for (auto& rig : rigs)
        ASSERT_NO_FATAL_FAILURE(expectScore(*rig));
}

TEST_P(HostCalls, PreparedAgainAtOtherRatesItPlaysOn) {
    const auto rig = load(48000.0, 8192);
    for (int round = 0; round < 8; ++round)
        for (const double rate : {44100.0, 96000.0, 48000.0}) {
            rig->plugin().releaseResources();
            rig->plugin().setRateAndBufferSizeDetails(rate, 8192);
            rig->plugin().prepareToPlay(rate, 8192);
        }
    rig->bpm = 200.0;
    rig->rollTo(12.0, 512);
    ASSERT_NO_FATAL_FAILURE(expectScore(*rig));
}

TEST_P(HostCalls, StateAndParametersFromAnotherThreadBreakNothing) {
    const auto rig = load(48000.0, 64);
    juce::MemoryBlock state;
    rig->plugin().getStateInformation(state);
    std::atomic<bool> stop{false};
    std::thread audio([&] {
        rig->bpm = 200.0;
        rig->playing = true;
        while (!stop)
            rig->run(64);
    });
    std::mt19937 random(5);
    const auto& parameters = rig->plugin().getParameters();
    for (int i = 0; i < 300; ++i) {
        auto* parameter = parameters[static_cast<int>(random() % static_cast<unsigned>(parameters.size()))];
        parameter->setValue(static_cast<float>(random() % 1001) / 1000.0F);
        if (i % 30 == 0)
            rig->plugin().setStateInformation(state.getData(), static_cast<int>(state.getSize()));
        juce::MemoryBlock now;
        if (i % 10 == 0)
            rig->plugin().getStateInformation(now);
    }
    stop = true;
    audio.join();
    std::int64_t last = 0;
    for (const Sent& message : rig->sent()) {
        ASSERT_GE(message.sample, last);
        last = message.sample;
    }
}

TEST_P(HostCalls, OddBlocksAndNoPositionAreTaken) {
    const auto rig = load(48000.0, 512);
    rig->bpm = 180.0;
    rig->playing = true;
    std::mt19937 random(17);
    while (rig->ppq < 10.0)
        rig->run(static_cast<int>(random() % 513U));
    rig->positionTold = false;
    for (int i = 0; i < 10; ++i)
        rig->run(512);
    const auto notes = sentNotes(rig->sent(), 1);
    ASSERT_FALSE(notes.empty());
    // An LV2 host tells its position only when it changes: without a word it goes on, and so may the last
    // note.
    const std::size_t ended = notes.size() - (GetParam() == Format::lv2 ? 1U : 0U);
    for (std::size_t i = 0; i < ended; ++i)
        EXPECT_GE(notes[i].off, 0) << "nothing sounds where nothing is known";
}

INSTANTIATE_TEST_SUITE_P(HostMatrix, HostCalls, testing::Values(Format::vst3, Format::lv2),
                         [](const auto& made) { return made.param == Format::vst3 ? "Vst3" : "Lv2"; });

} // namespace valveladder::host
