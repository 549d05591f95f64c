#include "Plugin/Processor.h"

#include "Host/TempLog.h"

#include <gtest/gtest.h>

namespace valveladder::host {

namespace {

struct Golden {
    const char* id;
    double low;
    double high;
    double usual;
};

/// Ids, ranges and defaults as sessions of hosts keep them. A line that changes here breaks somebody's
/// session.
constexpr Golden golden[] = {
    {"guide", 0, 1, 1},
    {"click", 0, 2, 2},
    {"valve-lanes", 0, 1, 1},
    {"midi-clock", 0, 1, 0},
    {"pitch", 0, 1, 0},
    {"guide-channel", 1, 16, 1},
    {"click-channel", 1, 16, 10},
    {"start-bar", 1, 9999, 1},
    {"repeat", 0, 1, 1},
    {"take-way", 0, 4, 0},
    {"take", 0, 1, 0},
    {"run-own-clock", 0, 1, 0},
    {"tempo-from", 0, 1, 0},
    {"own-tempo", 10, 400, 60},
    {"sound-threshold", -80, 0, -45},
    {"listen-channel", 0, 16, 0},
    {"link", 0, 1, 0},
    {"backing-drone", 0, 1, 0},
    {"drone-channel", 1, 16, 2},
    {"backing-pad", 0, 1, 0},
    {"pad-channel", 1, 16, 3},
    {"backing-bass", 0, 1, 0},
    {"bass-channel", 1, 16, 4},
    {"backing-drums", 0, 1, 0},
    {"drums-channel", 1, 16, 10},
    {"own-sound", 0, 1, 0},
    {"guide-tone", 0, 2, 1},
    {"click-level", -60, 0, -12},
    {"guide-tone-level", -60, 0, -12},
    {"backing-level", -60, 0, -12},
};

const juce::RangedAudioParameter& parameter(const Processor& processor, int index) {
    return dynamic_cast<const juce::RangedAudioParameter&>(*processor.getParameters()[index]);
}

void set(const Processor& processor, const juce::String& id, float value) {
    for (auto* each : processor.getParameters())
        if (auto* ranged = dynamic_cast<juce::RangedAudioParameter*>(each); ranged->getParameterID() == id)
            ranged->setValueNotifyingHost(ranged->convertTo0to1(value));
}

} // namespace

TEST(Parameters, IdsRangesAndDefaultsNeverChange) {
    const TempLog log;
    const Processor processor;
    ASSERT_EQ(processor.getParameters().size(), static_cast<int>(std::size(golden)));
    for (int i = 0; i < processor.getParameters().size(); ++i) {
        const auto& given = parameter(processor, i);
        const Golden& kept = golden[i];
        EXPECT_EQ(given.getParameterID(), juce::String(kept.id));
        const auto& range = given.getNormalisableRange();
        EXPECT_FLOAT_EQ(range.start, static_cast<float>(kept.low)) << kept.id;
        EXPECT_FLOAT_EQ(range.end, static_cast<float>(kept.high)) << kept.id;
        EXPECT_NEAR(given.convertFrom0to1(given.getDefaultValue()), static_cast<float>(kept.usual), 1e-4)
            << kept.id;
        EXPECT_TRUE(given.isAutomatable()) << kept.id;
        EXPECT_FALSE(given.getName(64).isEmpty()) << kept.id;
    }
}

TEST(Parameters, ReadGivesWhatHostsSet) {
    const TempLog log;
    Processor processor;
    Parameters& parameters = processor.parameterSet();
    const Controls usual = parameters.read();
    EXPECT_EQ(usual.guide, GuideSettings{});
    EXPECT_EQ(usual.way, TakeWay::recordingPass);
    set(processor, "guide", 0);
    set(processor, "click", 1);
    set(processor, "pitch", 1);
    set(processor, "guide-channel", 7);
    set(processor, "take-way", 3);
    set(processor, "tempo-from", 1);
    set(processor, "own-tempo", 72.5F);
    set(processor, "start-bar", 9);
    set(processor, "sound-threshold", -30);
    const Controls now = parameters.read();
    EXPECT_FALSE(now.guide.notes);
    EXPECT_EQ(now.guide.click, ClickWhen::countInOnly);
    EXPECT_FALSE(now.guide.soundingPitch);
    EXPECT_EQ(now.guide.noteChannel, 7);
    EXPECT_EQ(now.way, TakeWay::marker);
    EXPECT_EQ(now.tempoFrom, TempoFrom::own);
    EXPECT_NEAR(now.ownBpm, 72.5, 1e-4);
    EXPECT_EQ(now.startBar, 9);
    EXPECT_NEAR(now.soundThresholdDb, -30.0, 1e-4);
}

TEST(Parameters, BackingIsReadAndKeptInTheState) {
    const TempLog log;
    Processor first;
    set(first, "backing-drone", 1);
    set(first, "backing-drums", 1);
    set(first, "drone-channel", 6);
    juce::MemoryBlock state;
    first.getStateInformation(state);
    Processor second;
    second.setStateInformation(state.getData(), static_cast<int>(state.getSize()));
    const BackingChoice backing = second.parameterSet().read().guide.backing;
    EXPECT_EQ(backing.on, (std::array{true, false, false, true}));
    EXPECT_EQ(backing.channel, (std::array{6, 3, 4, 10}));
}

TEST(Parameters, MomentaryOnesAreNotKeptInTheState) {
    const TempLog log;
    Processor processor;
    set(processor, "take", 1);
    set(processor, "run-own-clock", 1);
    set(processor, "start-bar", 5);
    const auto values = processor.parameterSet().values();
    EXPECT_FALSE(values.contains("take"));
    EXPECT_FALSE(values.contains("run-own-clock"));
    EXPECT_EQ(values.at("start-bar"), 5.0);
}

TEST(Parameters, ValuesOutOfRangeAreBroughtIntoIt) {
    const TempLog log;
    Processor processor;
    processor.parameterSet().set({{"own-tempo", 1e9}, {"guide-channel", -3.0}, {"nobody", 1.0}});
    EXPECT_NEAR(processor.parameterSet().read().ownBpm, 400.0, 1e-3);
    EXPECT_EQ(processor.parameterSet().read().guide.noteChannel, 1);
}

} // namespace valveladder::host
