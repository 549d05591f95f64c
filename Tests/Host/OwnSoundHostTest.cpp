// Our own sound in the plugin: where it is on, what it leaves alone, and when its click is heard.

#include "Host/HostRig.h"
#include "Host/TempLog.h"
#include "Plugin/Processor.h"

#include <gtest/gtest.h>

#include <cmath>

namespace valveladder::host {

namespace {

using Wrapper = juce::AudioProcessor::WrapperType;

std::unique_ptr<Processor> madeAs(Wrapper wrapper) {
    juce::AudioProcessor::setTypeOfNextNewPlugin(wrapper);
    auto made = std::make_unique<Processor>();
    juce::AudioProcessor::setTypeOfNextNewPlugin(juce::AudioProcessor::wrapperType_Undefined);
    return made;
}

bool isOn(Processor& processor) {
    return processor.parameterSet().read().sound.on;
}

void open(Processor& processor, const std::string& state) {
    processor.setStateInformation(state.data(), static_cast<int>(state.size()));
}

/// Rolls by our own clock, as the Standalone does, until some clicks were heard.
struct Rolled {
    TempLog log;
    Processor* processor = nullptr;
    std::unique_ptr<HostRig> rig;
    std::vector<std::vector<float>> heard; ///< by channel

    Rolled(double rate, int block, bool sound) {
        auto made = madeAs(juce::AudioProcessor::wrapperType_Standalone);
        processor = made.get();
        *processor->parameterSet().ownSound = sound;
        *processor->parameterSet().tone = 0;
        rig = std::make_unique<HostRig>(std::move(made), rate, block);
        rig->positionTold = false;
        *processor->parameterSet().runOwnClock = true;
        heard.resize(static_cast<std::size_t>(rig->plugin().getTotalNumOutputChannels()));
    }
    void run(double seconds, int block) {
        for (auto left = std::llround(seconds * rig->sampleRate()); left > 0; left -= block) {
            rig->run(block);
            for (std::size_t channel = 0; channel < heard.size(); ++channel)
                for (int i = 0; i < block; ++i)
                    heard[channel].push_back(rig->output(static_cast<int>(channel), i));
        }
    }
    [[nodiscard]] std::vector<std::int64_t> clicksSent() const {
        std::vector<std::int64_t> samples;
        for (const Sent& sent : rig->sent())
            if (sent.event.isNoteOn() && sent.event.channel() == GuideSettings{}.clickChannel)
                samples.push_back(sent.sample);
        return samples;
    }
};

std::vector<std::int64_t> beginnings(const std::vector<float>& heard) {
    std::vector<std::int64_t> found;
    for (std::size_t i = 0; i < heard.size(); ++i)
        if (heard[i] != 0.0F && (i == 0 || heard[i - 1] == 0.0F))
            found.push_back(static_cast<std::int64_t>(i));
    return found;
}

} // namespace

TEST(OwnSoundHost, IsOnInTheStandaloneAndOffInHosts) {
    const TempLog log;
    EXPECT_TRUE(isOn(*madeAs(juce::AudioProcessor::wrapperType_Standalone)));
    for (const Wrapper wrapper :
         {juce::AudioProcessor::wrapperType_VST3, juce::AudioProcessor::wrapperType_LV2,
          juce::AudioProcessor::wrapperType_AudioUnit, juce::AudioProcessor::wrapperType_Undefined})
        EXPECT_FALSE(isOn(*madeAs(wrapper))) << wrapper;
}

TEST(OwnSoundHost, StatesFromBeforeItTakeWhatIsUsualWhereTheyAreOpened) {
    const TempLog log;
    const std::string old =
        R"({"format": "valve-ladder-state", "version": 1, "parameters": {"start-bar": 5}})";
    const auto alone = madeAs(juce::AudioProcessor::wrapperType_Standalone);
    *alone->parameterSet().clickLevel = -30.0F;
    open(*alone, old);
    EXPECT_TRUE(isOn(*alone));
    EXPECT_EQ(alone->parameterSet().read().sound.clickDb, OwnSoundSettings::usualDb);
    EXPECT_EQ(alone->parameterSet().read().startBar, 5);
    const auto hosted = madeAs(juce::AudioProcessor::wrapperType_VST3);
    open(*hosted, old);
    EXPECT_FALSE(isOn(*hosted));
}

TEST(OwnSoundHost, ItsChoicesAreKeptInTheState) {
    const TempLog log;
    Processor first;
    Parameters& set = first.parameterSet();
    *set.ownSound = true;
    *set.tone = 2;
    *set.clickLevel = -20.0F;
    *set.toneLevel = -60.0F;
    *set.backingLevel = -3.0F;
    juce::MemoryBlock state;
    first.getStateInformation(state);
    Processor second;
    second.setStateInformation(state.getData(), static_cast<int>(state.getSize()));
    const OwnSoundSettings expected{true, ToneWhen::always, -20.0, -60.0, -3.0};
    EXPECT_EQ(second.parameterSet().read().sound, expected);
}

TEST(OwnSoundHost, ClickIsHeardAtTheSampleAtWhichItsMidiIsSent) {
    for (const double rate : {44100.0, 48000.0, 96000.0, 192000.0})
        for (const int block : {64, 441, 8192}) {
            Rolled rolled(rate, block, true);
            rolled.run(6.0, block);
            const auto sent = rolled.clicksSent();
            ASSERT_GT(sent.size(), 3U);
            for (const auto& channel : rolled.heard)
                EXPECT_EQ(beginnings(channel), sent) << rate << " Hz, blocks of " << block;
        }
}

TEST(OwnSoundHost, MidiIsTheSameWithItAndWithout) {
    Rolled with(48000.0, 512, true), without(48000.0, 512, false);
    *with.processor->parameterSet().tone = 2;
    with.run(30.0, 512);
    without.run(30.0, 512);
    ASSERT_GT(without.rig->sent().size(), 50U);
    ASSERT_EQ(with.rig->sent().size(), without.rig->sent().size());
    for (std::size_t i = 0; i < with.rig->sent().size(); ++i) {
        EXPECT_EQ(with.rig->sent()[i].sample, without.rig->sent()[i].sample);
        EXPECT_EQ(with.rig->sent()[i].event, without.rig->sent()[i].event);
    }
    for (const auto& channel : without.heard)
        EXPECT_TRUE(beginnings(channel).empty());
}

TEST(OwnSoundHost, BuiltPluginInAHostPassesThePlayerThroughAndAddsNothing) {
    const TempLog log;
    std::string error;
    const auto rig = HostRig::load(Format::vst3, 48000.0, 512, error);
    ASSERT_NE(rig, nullptr) << error;
    std::vector<float> player(512);
    for (std::size_t i = 0; i < player.size(); ++i)
        player[i] = 0.2F * std::sin(static_cast<float>(i) * 0.05F);
    rig->playing = true;
    for (int block = 0; block < 200; ++block) {
        rig->run(512, {}, &player);
        for (int i = 0; i < 512; ++i)
            ASSERT_EQ(rig->output(0, i), player[static_cast<std::size_t>(i)]) << block;
    }
    EXPECT_FALSE(rig->sent().empty());
}

} // namespace valveladder::host
