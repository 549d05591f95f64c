#pragma once

#include "Guide/HostBlock.h"
#include "Guide/MidiEvent.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace valveladder::host {

enum class Format { vst3, lv2 };

/// Folder of the built plugin of that format.
[[nodiscard]] std::filesystem::path builtPlugin(Format format);

/// A MIDI message as the plugin sent it; `sample` counts from the rig's first block.
struct Sent {
    std::int64_t sample = 0;
    MidiEvent event;
};

/// A block as the rig's play head told it, and where it lies in the rig's own time.
struct Told {
    std::int64_t startSample = 0;
    HostBlock block;
};

/// A host for one plugin: a play head that the test moves, and a record of all that was told and sent.
class HostRig {
public:
    /// Any processor, built plugin or not. `maxSamples` is the announced block size.
    HostRig(std::unique_ptr<juce::AudioProcessor> processor, double sampleRate, int maxSamples);
    ~HostRig();

    /// The built plugin, loaded as a host does; nullptr with the reason in `error`.
    static std::unique_ptr<HostRig> load(Format format, double sampleRate, int maxSamples,
                                         std::string& error);

    /// Where the transport stands, and how it rolls. Advances with each block while playing.
    double ppq = 0.0;
    double bpm = 120.0;
    bool playing = false;
    bool recording = false;
    bool positionTold = true;      ///< false: a host without a play head
    std::optional<double> toldBpm; ///< told in place of the tempo that is played
    double speed = 1.0;            ///< of the host's time line: its samples a sample played
    double ticksPerQuarter = 0.0;  ///< to which positions are rounded when they are told; 0 = they are not
    int meterBeats = 4;
    int meterUnit = 4;

    /// Called by the play head, so within the plugin's own processBlock: a place to plant faults.
    std::function<void()> inPlayHead;
    /// When set, is given each call of processBlock to make.
    std::function<void(const std::function<void()>&)> aroundBlock;

    /// One block of `samples`; `midi` is given to the plugin, `sound` (may be null) fills its input.
    void run(int samples, const juce::MidiBuffer& midi = {}, const std::vector<float>* sound = nullptr);
    /// Rolls until `endPpq`, in blocks of at most `samples`; the last is cut so that it ends there.
    void rollTo(double endPpq, int samples);
    /// Loops `passes` times over a range, blocks cut at its end as sequencers do.
    void loop(double fromPpq, double toPpq, int passes, int samples);

    [[nodiscard]] juce::AudioProcessor& plugin() { return *processor; }
    [[nodiscard]] double sampleRate() const { return rate; }
    /// A sample of the last block that came out of the plugin.
    [[nodiscard]] float output(int channel, int sample) const { return audio.getSample(channel, sample); }
    [[nodiscard]] const std::vector<Told>& told() const { return blocks; }
    [[nodiscard]] const std::vector<Sent>& sent() const { return messages; }

private:
    struct PlayHead;
    void record(const juce::MidiBuffer& midi);

    std::unique_ptr<juce::AudioProcessor> processor;
    std::unique_ptr<PlayHead> playHead;
    double rate;
    juce::AudioBuffer<float> audio;
    juce::MidiBuffer exchange; ///< one for all blocks, as plugin wrappers have it
    std::int64_t samplesRun = 0;
    std::vector<Told> blocks;
    std::vector<Sent> messages;
};

} // namespace valveladder::host
