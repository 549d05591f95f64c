#include "Host/DefaultScore.h"
#include "Host/ExpectedGuide.h"
#include "Host/HostRig.h"
#include "Host/TempLog.h"

#include <gtest/gtest.h>

#include <cmath>

namespace valveladder::host {

namespace {

constexpr int announcedSamples = 512;

/// The built plugin in a host of ours, in each format that this build made.
class HostedPlugin : public testing::TestWithParam<Format> {
protected:
    void SetUp() override {
        if (!std::filesystem::exists(builtPlugin(GetParam())))
            GTEST_SKIP() << "this build has no " << builtPlugin(GetParam())
                         << " (builds with the thread sanitizer leave LV2 out)";
    }

    std::unique_ptr<HostRig> load(double sampleRate = 48000.0, int maxSamples = announcedSamples) {
        std::string error;
        auto rig = HostRig::load(GetParam(), sampleRate, maxSamples, error);
        EXPECT_NE(rig, nullptr) << error;
        return rig;
    }

    TempLog log;
};

double lapQuarters() {
    return static_cast<double>(defaultScore().length) / ticksPerQuarter;
}

/// Same notes in the same order, onsets and ends within a sample.
void expectGuideIsScore(const HostRig& rig) {
    const auto expected = expectedNotes(defaultScore(), rig.told());
    const auto sent = sentNotes(rig.sent(), 1);
    ASSERT_FALSE(expected.empty());
    ASSERT_EQ(sent.size(), expected.size());
    for (std::size_t i = 0; i < sent.size(); ++i) {
        SCOPED_TRACE("note " + std::to_string(i));
        EXPECT_EQ(sent[i].pitch, expected[i].pitch);
        EXPECT_EQ(sent[i].velocity, expected[i].velocity);
        EXPECT_NEAR(static_cast<double>(sent[i].on), static_cast<double>(expected[i].on), 1.0);
        EXPECT_NEAR(static_cast<double>(sent[i].off), static_cast<double>(expected[i].off), 1.0);
    }
}

} // namespace

TEST_P(HostedPlugin, SaysWhatItIs) {
    const auto rig = load();
    ASSERT_NE(rig, nullptr);
    EXPECT_EQ(rig->plugin().getName(), juce::String("Valve Ladder"));
    EXPECT_TRUE(rig->plugin().acceptsMidi());
    EXPECT_TRUE(rig->plugin().producesMidi());
    EXPECT_EQ(rig->plugin().getTotalNumInputChannels(), 2);
    EXPECT_EQ(rig->plugin().getTotalNumOutputChannels(), 2);
}

TEST_P(HostedPlugin, RollingPlaysTheWholeScoreAndRepeats) {
    const auto rig = load();
    ASSERT_NE(rig, nullptr);
    rig->rollTo(lapQuarters() * 1.5, announcedSamples);
    rig->playing = false;
    rig->run(announcedSamples);
    expectGuideIsScore(*rig);
}

TEST_P(HostedPlugin, LoopedRangePlaysTheSameNotesEachPass) {
    const auto rig = load();
    ASSERT_NE(rig, nullptr);
    rig->loop(8.0, 16.0, 4, announcedSamples);
    rig->playing = false;
    rig->run(announcedSamples);
    expectGuideIsScore(*rig);
}

TEST_P(HostedPlugin, JumpsForwardsAndBackwardsLeaveNoNoteSounding) {
    const auto rig = load();
    ASSERT_NE(rig, nullptr);
    rig->ppq = 4.0;
    rig->rollTo(7.3, announcedSamples);
    for (const double target : {20.1, 5.05, 41.0, 4.0}) {
        rig->ppq = target;
        rig->rollTo(target + 3.3, announcedSamples);
    }
    rig->playing = false;
    rig->run(announcedSamples);
    expectGuideIsScore(*rig);
}

TEST_P(HostedPlugin, TempoRampIsFollowedBlockByBlock) {
    const auto rig = load();
    ASSERT_NE(rig, nullptr);
    rig->playing = true;
    for (rig->bpm = 60.0; rig->bpm < 132.0; rig->bpm += 0.125)
        rig->run(announcedSamples);
    rig->playing = false;
    rig->run(announcedSamples);
    expectGuideIsScore(*rig);
}

TEST_P(HostedPlugin, ChangingBlockSizesLoseAndDoubleNothing) {
    const auto rig = load(44100.0);
    ASSERT_NE(rig, nullptr);
    rig->playing = true;
    const int sizes[] = {512, 1, 64, 37, 256, 511, 7};
    for (std::size_t i = 0; rig->ppq < 24.0; ++i)
        rig->run(sizes[i % std::size(sizes)]);
    rig->playing = false;
    rig->run(announcedSamples);
    expectGuideIsScore(*rig);
}

TEST_P(HostedPlugin, EverySampleRateGivesTheSameMusicalTime) {
    for (const double sampleRate : {44100.0, 88200.0, 96000.0, 192000.0}) {
        SCOPED_TRACE(sampleRate);
        const auto rig = load(sampleRate);
        ASSERT_NE(rig, nullptr);
        rig->bpm = 93.0;
        rig->rollTo(12.0, announcedSamples);
        rig->playing = false;
        rig->run(announcedSamples);
        expectGuideIsScore(*rig);
    }
}

TEST_P(HostedPlugin, StoppedHostHearsNothing) {
    const auto rig = load();
    ASSERT_NE(rig, nullptr);
    for (int i = 0; i < 200; ++i)
        rig->run(announcedSamples);
    EXPECT_TRUE(sentNotes(rig->sent(), 1).empty());
    EXPECT_TRUE(sentNotes(rig->sent(), 10).empty());
}

TEST_P(HostedPlugin, ValveControllersShowTheCombinationOfEveryNote) {
    const auto rig = load();
    ASSERT_NE(rig, nullptr);
    rig->rollTo(lapQuarters(), announcedSamples);
    rig->playing = false;
    rig->run(announcedSamples);
    std::uint8_t down = 0;
    std::size_t note = 0;
    for (const Sent& message : rig->sent()) {
        const MidiEvent& event = message.event;
        if (event.isController() && event.bytes[1] >= firstValveController &&
            event.bytes[1] < firstValveController + maxValves) {
            const auto bit = static_cast<std::uint8_t>(1U << (event.bytes[1] - firstValveController));
            down = static_cast<std::uint8_t>(event.bytes[2] >= 64 ? down | bit : down & ~bit);
        } else if (event.isNoteOn() && event.channel() == 1) {
            ASSERT_LT(note, defaultScore().notes.size());
            EXPECT_EQ(down, defaultScore().notes[note].combination.bits()) << "note " << note;
            ++note;
        }
    }
    EXPECT_EQ(note, defaultScore().notes.size());
    EXPECT_EQ(down, 0);
}

TEST_P(HostedPlugin, ClickFallsOnEveryBeat) {
    const auto rig = load();
    ASSERT_NE(rig, nullptr);
    rig->rollTo(16.0, announcedSamples);
    const auto clicks = sentNotes(rig->sent(), 10);
    ASSERT_EQ(clicks.size(), 16U);
    for (std::size_t i = 0; i < clicks.size(); ++i)
        EXPECT_NEAR(static_cast<double>(clicks[i].on), static_cast<double>(i) * 24000.0, 1.0);
}

TEST_P(HostedPlugin, StateSurvivesTheHost) {
    const auto first = load();
    ASSERT_NE(first, nullptr);
    juce::MemoryBlock state;
    first->plugin().getStateInformation(state);
    ASSERT_GT(state.getSize(), 0U);
    const auto second = load();
    ASSERT_NE(second, nullptr);
    second->plugin().setStateInformation(state.getData(), static_cast<int>(state.getSize()));
    juce::MemoryBlock again;
    second->plugin().getStateInformation(again);
    EXPECT_TRUE(state == again);
}

TEST_P(HostedPlugin, StateFromNowhereKeepsTheDefaultsAndPlaysOn) {
    const auto rig = load();
    ASSERT_NE(rig, nullptr);
    const std::string rubbish = "<state from=\"nowhere\"/>";
    rig->plugin().setStateInformation(rubbish.data(), static_cast<int>(rubbish.size()));
    rig->rollTo(12.0, announcedSamples);
    rig->playing = false;
    rig->run(announcedSamples);
    expectGuideIsScore(*rig);
}

TEST_P(HostedPlugin, SoundPassesThrough) {
    const auto rig = load();
    ASSERT_NE(rig, nullptr);
    std::vector<float> sound(announcedSamples);
    for (std::size_t i = 0; i < sound.size(); ++i)
        sound[i] = std::sin(static_cast<float>(i) * 0.05F);
    rig->run(announcedSamples, {}, &sound);
    for (std::size_t i = 0; i < sound.size(); ++i)
        ASSERT_FLOAT_EQ(rig->output(0, static_cast<int>(i)), sound[i]) << "sample " << i;
}

INSTANTIATE_TEST_SUITE_P(Built, HostedPlugin, testing::Values(Format::vst3, Format::lv2),
                         [](const auto& made) { return made.param == Format::vst3 ? "Vst3" : "Lv2"; });

} // namespace valveladder::host
