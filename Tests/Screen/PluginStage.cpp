#include "Screen/PluginStage.h"

#include "View/Words.h"

#include <gtest/gtest.h>

namespace valveladder {

namespace {

constexpr double rate = 48000.0;
constexpr int blockSamples = 480;

/// The last of the cautions that open a sitting has come from the worker.
bool cautionIsShown(Window& window) {
    return find<FootLine>(window, [](const FootLine& line) { return line.said().contains("loud"); }) !=
           nullptr;
}

} // namespace

PluginStage::PluginStage(const Preferences& preferences) {
    EXPECT_TRUE(writePreferences(preferencesPath(), preferences));
    SessionConfig config;
    config.player = pictures::InventedLog::player;
    config.instrument = invented.instrument();
    config.drill = defaultDrill(config.instrument);
    config.invented = true;
    EXPECT_TRUE(plugin.setConfig(config));
    plugin.setRateAndBufferSizeDetails(rate, blockSamples);
    plugin.prepareToPlay(rate, blockSamples);
}

PluginStage::~PluginStage() {
    plugin.releaseResources();
}

void PluginStage::block(bool note) {
    juce::AudioBuffer<float> audio(2, blockSamples);
    audio.clear();
    juce::MidiBuffer midi;
    if (note)
        midi.addEvent(juce::MidiMessage::noteOn(2, 52, juce::uint8(80)), 0);
    plugin.processBlock(audio, midi);
}

bool comesToRest(Window& window, const Processor& plugin) {
    return pump(window, [&] {
        const Reviewer* reviewer = plugin.session().reviewing();
        if (reviewer == nullptr || reviewer->busy() || plugin.session().review() == nullptr)
            return false;
        window.refresh(); // what was read is taken up, and the work that is done leaves the foot
        return cautionIsShown(window) &&
               find<WorkStrip>(window, [](const WorkStrip&) { return true; }) == nullptr;
    });
}

} // namespace valveladder
