#pragma once

#include "Guide/Guide.h"
#include "Plugin/Feed.h"
#include "Plugin/Handoff.h"
#include "Plugin/OwnClock.h"
#include "Plugin/Parameters.h"
#include "Plugin/Settings.h"
#include "Score/Score.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <atomic>
#include <mutex>
#include <vector>

namespace valveladder {

/// The plugin: host position to guide, host sound and MIDI to the worker.
class Processor final : public juce::AudioProcessor {
public:
    Processor();
    ~Processor() override;

    // [message]
    void prepareToPlay(double sampleRate, int samplesPerBlock) override;
    void releaseResources() override;
    void reset() override;
    [[nodiscard]] bool isBusesLayoutSupported(const BusesLayout& layouts) const override;
    void getStateInformation(juce::MemoryBlock& destination) override;
    void setStateInformation(const void* data, int sizeInBytes) override;

    // [audio]
    void processBlock(juce::AudioBuffer<float>& audio, juce::MidiBuffer& midi) noexcept override;
    void processBlockBypassed(juce::AudioBuffer<float>& audio, juce::MidiBuffer& midi) noexcept override;
    using juce::AudioProcessor::processBlock;
    using juce::AudioProcessor::processBlockBypassed;

    [[nodiscard]] const juce::String getName() const override { return "Valve Ladder"; }
    [[nodiscard]] bool acceptsMidi() const override { return true; }
    [[nodiscard]] bool producesMidi() const override { return true; }
    [[nodiscard]] bool isMidiEffect() const override { return false; }
    [[nodiscard]] double getTailLengthSeconds() const override { return 0.0; }
    [[nodiscard]] bool hasEditor() const override { return false; }
    juce::AudioProcessorEditor* createEditor() override { return nullptr; }
    int getNumPrograms() override { return 1; }
    int getCurrentProgram() override { return 0; }
    void setCurrentProgram(int) override {}
    const juce::String getProgramName(int) override { return {}; }
    void changeProgramName(int, const juce::String&) override {}

private:
    Parameters parameters;
};

} // namespace valveladder
