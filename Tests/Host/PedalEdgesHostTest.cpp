// Continuous pedals at the plugin itself: start, repeat and the Take parameter.

#include "Host/TempLog.h"
#include "Plugin/Processor.h"
#include "Screen/Within.h"

#include <gtest/gtest.h>

namespace valveladder::host {

namespace {

constexpr int samples = 480;

/// The plugin without a host, a block for each value of a pedal.
class PedalEdgesHost : public testing::Test {
protected:
    PedalEdgesHost() {
        plugin.setRateAndBufferSizeDetails(48000.0, samples);
        plugin.prepareToPlay(48000.0, samples);
    }
    ~PedalEdgesHost() override { plugin.releaseResources(); }

    void pedal(int number, int value) {
        juce::AudioBuffer<float> audio(2, samples);
        audio.clear();
        juce::MidiBuffer midi;
        midi.addEvent(juce::MidiMessage::controllerEvent(1, number, value), 0);
        plugin.processBlock(audio, midi);
        plugin.servePedals();
        const bool runs = plugin.parameterSet().runOwnClock->get();
        turns += runs != ran ? 1 : 0;
        ran = runs;
    }
    void press(int number) {
        for (int value = 0; value <= 127; value += 5)
            pedal(number, value);
        for (const int tremble : {66, 61, 65, 60, 64, 59})
            pedal(number, tremble);
        for (int value = 55; value >= 0; value -= 5)
            pedal(number, value);
    }

    TempLog log;
    Processor plugin;
    int turns = 0; ///< of our own clock, on or off
    bool ran = false;
};

} // namespace

TEST_F(PedalEdgesHost, StartPedalTurnsOurClockOncePerPress) {
    SessionConfig config;
    config.pedals.start = {-1, 64};
    ASSERT_TRUE(plugin.setConfig(config));
    press(64);
    EXPECT_EQ(turns, 1);
    EXPECT_TRUE(ran);
    press(64);
    EXPECT_EQ(turns, 2);
    EXPECT_FALSE(ran);
}

TEST_F(PedalEdgesHost, PedalThatIsBeingLearnedDoesNotActWhileItGoesOnDown) {
    for (int value = 0; value <= 70; value += 5)
        pedal(64, value);
    EXPECT_EQ(plugin.lastPressed().count, 1U);
    EXPECT_EQ(plugin.lastPressed().number, 64);
    SessionConfig config;
    config.pedals.start = {-1, 64};
    ASSERT_TRUE(plugin.setConfig(config)); // learned by now
    for (int value = 75; value <= 127; value += 5)
        pedal(64, value);
    EXPECT_EQ(turns, 0);
    EXPECT_EQ(plugin.lastPressed().count, 1U);
}

TEST_F(PedalEdgesHost, RepeatPedalGoesBackOncePerPress) {
    SessionConfig config;
    config.pedals.repeat = {-1, 67};
    ASSERT_TRUE(plugin.setConfig(config));
    *plugin.parameterSet().runOwnClock = true;
    ran = true;
    const auto clockAt = [&] { return plugin.clock().ppq.load(); };
    for (int i = 0; i < 300; ++i)
        pedal(1, 0);
    int backs = 0;
    double before = clockAt();
    for (int value = 0; value <= 127; value += 5) {
        pedal(67, value);
        backs += clockAt() < before ? 1 : 0;
        before = clockAt();
    }
    EXPECT_EQ(backs, 1);
}

TEST_F(PedalEdgesHost, TakeParameterThatTremblesCountsOnce) {
    Parameters& parameters = plugin.parameterSet();
    *parameters.takeWay = static_cast<int>(TakeWay::marker);
    *parameters.runOwnClock = true;
    const Score& score = plugin.session().view()->setup->score();
    const double first = static_cast<double>(score.notes.front().onset) / ticksPerQuarter;
    while (plugin.clock().ppq.load() < first + 0.5)
        pedal(1, 0);
    for (const float value : {0.0F, 0.45F, 0.55F, 0.45F, 0.6F, 0.4F, 0.51F, 0.45F, 1.0F})
        parameters.takeMark->setValueNotifyingHost(value);
    pedal(1, 0);
    EXPECT_TRUE(eventually([&] { return plugin.session().view()->inTake; }))
        << "its four ways over the middle, each counted, would have taken it back";
}

} // namespace valveladder::host
