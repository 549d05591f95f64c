// Pedals: learned in the set-up, start and repeat by MIDI.

#include "Host/TempLog.h"
#include "Plugin/Processor.h"
#include "Plugin/RungAgain.h"
#include "Plugin/State.h"
#include "Screen/SetupPanel.h"
#include "Screen/Within.h"

#include <gtest/gtest.h>

namespace valveladder {

namespace {

constexpr double rate = 48000.0;
constexpr int blockSamples = 480;

/// Blocks of the plugin without a host, with what a pedal sends.
struct Stage {
    host::TempLog log;
    Processor plugin;

    Stage() {
        plugin.setRateAndBufferSizeDetails(rate, blockSamples);
        plugin.prepareToPlay(rate, blockSamples);
    }
    ~Stage() { plugin.releaseResources(); }

    void block(const juce::MidiMessage& message = {}) {
        juce::AudioBuffer<float> audio(2, blockSamples);
        audio.clear();
        juce::MidiBuffer midi;
        if (message.getRawDataSize() > 0 && message.getRawData()[0] != 0xF0)
            midi.addEvent(message, 0);
        plugin.processBlock(audio, midi);
        plugin.servePedals();
    }
    void roll(double seconds) {
        for (int i = 0; i < static_cast<int>(seconds * rate / blockSamples); ++i)
            block();
    }
    /// Until the message thread has done what a pedal asked for.
    bool until(const std::function<bool()>& condition) {
        return eventually([&] {
            block();
            return condition();
        });
    }
};

juce::Button* buttonNamed(juce::Component& parent, const juce::String& start) {
    for (juce::Component* child : parent.getChildren()) {
        auto* button = dynamic_cast<juce::Button*>(child);
        if (button != nullptr && button->getTitle().startsWith(start))
            return button;
        if (auto* found = buttonNamed(*child, start))
            return found;
    }
    return nullptr;
}

} // namespace

TEST(Pedals, EachIsLearnedFromTheNextKeyOrPedalAndOneDoesOneThing) {
    const host::TempLog log;
    Processor plugin;
    SetupPanel panel(plugin.parameterSet(), true);
    SessionConfig config;
    panel.show(config);
    panel.onChange = [&](SessionConfig changed) {
        config = std::move(changed);
        panel.show(config);
    };
    panel.heard(true, 64); // nobody waits
    EXPECT_EQ(config.pedals, Pedals{});
    const auto learn = [&](const char* field, bool controller, int number) {
        juce::Button* button = buttonNamed(panel, field);
        ASSERT_NE(button, nullptr) << field;
        button->setToggleState(true, juce::sendNotificationSync);
        EXPECT_TRUE(panel.learning());
        panel.heard(controller, number);
        EXPECT_FALSE(panel.learning());
    };
    learn("Start or stop by", true, 64);
    learn("Mark takes by", false, 36);
    learn("Repeat the rung by", true, 67);
    EXPECT_EQ(config.pedals, (Pedals{{-1, 64}, {36, -1}, {-1, 67}}));
    learn("Repeat the rung by", true, 64);
    EXPECT_EQ(config.pedals, (Pedals{{-1, -1}, {36, -1}, {-1, 64}}));
    const auto back = stateFromText(toStateText({config, {}}));
    ASSERT_TRUE(back);
    EXPECT_EQ(back.value().config.pedals, config.pedals);
}

TEST(Pedals, StartRunsOurClockAndStopsItAgain) {
    Stage stage;
    SessionConfig config;
    config.pedals.start = {-1, 64};
    ASSERT_TRUE(stage.plugin.setConfig(config));
    const auto runs = [&] { return stage.plugin.parameterSet().runOwnClock->get(); };
    stage.block(juce::MidiMessage::controllerEvent(1, 65, 127));
    stage.roll(0.5);
    EXPECT_FALSE(runs()) << "another controller does nothing";
    stage.block(juce::MidiMessage::controllerEvent(1, 64, 127));
    EXPECT_TRUE(stage.until(runs));
    EXPECT_TRUE(stage.until([&] { return stage.plugin.clock().playing.load(); }));
    stage.block(juce::MidiMessage::controllerEvent(1, 64, 0)); // released
    stage.block(juce::MidiMessage::controllerEvent(1, 64, 127));
    EXPECT_TRUE(stage.until([&] { return !runs(); }));
}

TEST(Pedals, RepeatTakesOurClockBackToTheRungAtItsTempo) {
    Stage stage;
    SessionConfig config;
    config.pedals.repeat = {40, -1};
    ASSERT_TRUE(stage.plugin.setConfig(config));
    *stage.plugin.parameterSet().runOwnClock = true;
    stage.block();
    const auto view = stage.plugin.session().view();
    const Score& score = view->setup->score();
    const double bpm = stage.plugin.clock().bpm.load();
    const auto quarters = [](Tick ticks) { return static_cast<double>(ticks) / ticksPerQuarter; };
    const ScoreNote* second = nullptr;
    Tick before = 0;
    for (const ScoreSpan& span : score.spans) {
        if (span.rung == 1) {
            second = &score.notes[static_cast<std::size_t>(span.firstNote)];
            break;
        }
        before = span.end;
    }
    ASSERT_NE(second, nullptr);
    stage.roll((quarters(second->onset) + 3.0) * 60.0 / bpm);
    EXPECT_GT(stage.plugin.clock().ppq.load(), quarters(second->onset));
    stage.block(juce::MidiMessage::noteOn(1, 40, juce::uint8(100)));
    stage.block();
    EXPECT_NEAR(stage.plugin.clock().ppq.load(), quarters(before), 0.1);
    EXPECT_DOUBLE_EQ(stage.plugin.clock().bpm.load(), bpm);
    // Pressed again in the rest before the rung, also when the clock stands, it is that rung again.
    *stage.plugin.parameterSet().runOwnClock = false;
    stage.roll(0.1);
    stage.block(juce::MidiMessage::noteOn(1, 40, juce::uint8(100)));
    EXPECT_TRUE(stage.until([&] { return stage.plugin.clock().playing.load(); }));
    EXPECT_NEAR(stage.plugin.clock().ppq.load(), quarters(before), 2.0);
}

TEST(Pedals, InARestTheRungIsTheOneJustPlayed) {
    const Score score = buildScore(defaultDrill(catalogue().front()), catalogue().front(), 60.0).value();
    GuideSettings guide;
    guide.startPpq = 8.0;
    const ScoreSpan* last = nullptr;
    for (const ScoreSpan& span : score.spans)
        if (span.rung == 0)
            last = &span;
    const double justAfter = 8.0 + static_cast<double>(last->end + 1) / ticksPerQuarter;
    EXPECT_DOUBLE_EQ(rungAgain(score, guide, justAfter).ppq, 8.0);
    EXPECT_DOUBLE_EQ(rungAgain(score, guide, 0.0).ppq, 8.0);
}

} // namespace valveladder
