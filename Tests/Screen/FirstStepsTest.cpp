// The first page hears: a tone at the plugin's input is named, and its level moves.

#include "Host/TempLog.h"
#include "Screen/Find.h"
#include "View/Words.h"

#include <cmath>
#include <gtest/gtest.h>
#include <numbers>

namespace valveladder {

namespace {

constexpr double rate = 48000.0;
constexpr int blockSamples = 480;

/// A plugin at whose input a steady tone stands.
struct Listening {
    host::TempLog log;
    Processor plugin;
    double phase = 0.0; ///< periods

    explicit Listening(const char* instrument) {
        SessionConfig config;
        config.instrument = *findInstrument(instrument);
        config.drill = defaultDrill(config.instrument);
        EXPECT_TRUE(plugin.setConfig(config));
        plugin.setRateAndBufferSizeDetails(rate, blockSamples);
        plugin.prepareToPlay(rate, blockSamples);
    }
    ~Listening() { plugin.releaseResources(); }

    /// A third of a second of eight harmonics that fall by their number; `peak` about full scale = 1.
    void hear(double hz, double peak) {
        for (int block = 0; block < 33; ++block) {
            juce::AudioBuffer<float> audio(2, blockSamples);
            for (int i = 0; i < blockSamples; ++i) {
                phase += hz / rate;
                double value = 0.0;
                for (int harmonic = 1; harmonic <= 8; ++harmonic)
                    value += std::sin(2.0 * std::numbers::pi * phase * harmonic) / harmonic;
                for (int channel = 0; channel < 2; ++channel)
                    audio.setSample(channel, i, static_cast<float>(peak * value / 1.8));
            }
            juce::MidiBuffer midi;
            plugin.processBlock(audio, midi);
        }
    }
};

/// What stands beside the level, once it has come to be.
bool says(Window& window, const juce::String& text) {
    return pump(window, [&] {
        return find<juce::Label>(window, [&](const juce::Label& label) {
                   return label.getTitle() == words::heardNowTitle && label.getText() == text;
               }) != nullptr;
    });
}

LevelMeter* levelOf(FirstPlace& place) {
    return find<LevelMeter>(place, [](const LevelMeter&) { return true; });
}

} // namespace

TEST(FirstSteps, NameTheNoteThatIsHeardAsTheInstrumentWritesIt) {
    for (const auto& [instrument, hz, text] :
         {std::tuple{"trumpet-b-flat", 196.0, "I hear A3 (sounds G3)"},
          std::tuple{"trumpet-c", 220.0, "I hear A3"},
          std::tuple{"euphonium-4-compensating-bass", 116.54, "I hear Bb2"}}) {
        Listening stage(instrument);
        Window window(stage.plugin);
        ASSERT_EQ(window.place(), Window::Place::first);
        ASSERT_TRUE(says(window, words::playANote));
        stage.hear(hz, 0.3);
        EXPECT_TRUE(says(window, text)) << instrument;
    }
}

TEST(FirstSteps, TheLevelMovesWithWhatComesIn) {
    Listening stage("trumpet-b-flat");
    Window window(stage.plugin);
    LevelMeter* level = levelOf(window.firstPlace());
    ASSERT_NE(level, nullptr);
    stage.hear(196.0, 0.02);
    ASSERT_TRUE(pump(window, [&] { return level->level() > 0; }));
    const int quiet = level->level();
    EXPECT_EQ(level->said(), words::levelHeard);
    stage.hear(196.0, 0.3);
    EXPECT_TRUE(pump(window, [&] { return level->level() >= quiet + 5; })) << quiet;
    stage.hear(196.0, 1.0);
    EXPECT_TRUE(pump(window, [&] { return level->said() == words::levelHot; }));
    stage.hear(196.0, 0.0);
    EXPECT_TRUE(pump(window, [&] { return level->level() == 0; }));
    EXPECT_EQ(level->said(), words::levelSilent);
    EXPECT_TRUE(says(window, words::playANote));
}

} // namespace valveladder
