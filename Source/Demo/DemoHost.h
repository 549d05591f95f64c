#pragma once

#include "Base/Problem.h"
#include "Invented/InventedPlayer.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <filesystem>
#include <memory>
#include <span>
#include <string>

namespace valveladder {

/// A host without window or sound card for one plugin, as much of one as the demo needs: it loads the built
/// VST3, sets its state, and records takes with it, faster than real time.
class DemoHost {
public:
    [[nodiscard]] static Result<std::unique_ptr<DemoHost>> load(const std::filesystem::path& vst3);
    ~DemoHost();

    /// Gives the plugin a state of its own format.
    void setState(const std::string& stateText);

    /// Stands at the beginning, records while the transport rolls at `bpm` for `quarters`, and stops. The
    /// player is heard by MIDI and by sound, as far as given. Returns how many guide notes came out of the
    /// plugin.
    int recordTake(double bpm, double quarters, std::span<const PlayedMessage> played,
                   std::span<const float> sound = {});

    static constexpr double sampleRate = 48000.0; ///< Hz

    [[nodiscard]] std::string name() const;

private:
    struct PlayHead;
    explicit DemoHost(std::unique_ptr<juce::AudioPluginInstance> instance);
    int run(const juce::MidiBuffer& midi, std::span<const float> sound = {});

    std::unique_ptr<juce::AudioPluginInstance> plugin;
    std::unique_ptr<PlayHead> playHead;
    juce::AudioBuffer<float> audio;
    juce::MidiBuffer exchange;
};

} // namespace valveladder
