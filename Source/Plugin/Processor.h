#pragma once

#include "Plugin/AudioPath.h"
#include "Plugin/JackMidi.h"
#include "Plugin/MidiOut.h"
#include "Plugin/Parameters.h"
#include "Plugin/Playback.h"
#include "Plugin/PlayedTempo.h"
#include "Plugin/SoundDevices.h"
#include "Plugin/SparsePosition.h"
#include "Plugin/State.h"
#include "Plugin/Worker.h"
#include "Session/InputEar.h"
#include "Session/PedalPresses.h"
#include "View/PluginWords.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <atomic>
#include <functional>
#include <memory>
#include <mutex>
#include <vector>

namespace valveladder {

/// The plugin: host position to guide, host sound and MIDI to the worker.
class Processor final : public juce::AudioProcessor, private juce::AsyncUpdater {
public:
    Processor();
    ~Processor() override;

    /// [any] For a wrapper that lets go of the parameters before the processor: no parameter is set from the
    /// message thread's timer any more, nor is one being set.
    void leaveTimer() { pedalTimer->leave(); }

    // [message]
    void prepareToPlay(double sampleRate, int samplesPerBlock) override;
    void releaseResources() override;
    [[nodiscard]] bool isBusesLayoutSupported(const BusesLayout& layouts) const override;
    void getStateInformation(juce::MemoryBlock& destination) override;
    void setStateInformation(const void* data, int sizeInBytes) override;

    // [audio]
    void processBlock(juce::AudioBuffer<float>& audio, juce::MidiBuffer& midi) noexcept override;
    void processBlockBypassed(juce::AudioBuffer<float>& audio, juce::MidiBuffer& midi) noexcept override;
    /// [audio] Position reports of the block that is processed next, valid until it is: for LV2, whose
    /// wrapper passes on only part of what the host says.
    void tellTime(std::span<const TimeReport> reports) noexcept { timeReports = reports; }
    using juce::AudioProcessor::processBlock;
    using juce::AudioProcessor::processBlockBypassed;

    [[nodiscard]] const juce::String getName() const override { return "Valve Ladder"; }
    [[nodiscard]] bool acceptsMidi() const override { return true; }
    [[nodiscard]] bool producesMidi() const override { return true; }
    [[nodiscard]] bool isMidiEffect() const override { return false; }
    [[nodiscard]] double getTailLengthSeconds() const override { return 0.0; }
    [[nodiscard]] bool hasEditor() const override { return true; }
    juce::AudioProcessorEditor* createEditor() override; ///< lives in the Screen room
    int getNumPrograms() override { return 1; }
    int getCurrentProgram() override { return 0; }
    void setCurrentProgram(int) override {}
    const juce::String getProgramName(int) override { return words::onlyProgram; }
    void changeProgramName(int, const juce::String&) override {}

    /// [message] What the instance practises.
    [[nodiscard]] SessionConfig config() const;
    /// [message] Refused with words when out of range; the old settings stay.
    Result<Done> setConfig(SessionConfig config);
    /// [message] The take button.
    void pressTake() noexcept { handPresses.fetch_add(1, std::memory_order_relaxed); }

    /// [message] Our own clock starts, and a take where takes are asked for; or it stops. While a host's
    /// clock rolls, a take is asked for.
    void pressStart();
    /// [message] Does what Start's and Repeat's pedals asked for on the audio thread, and stops our own clock
    /// behind the end of a drill that is not to start over; the plugin's own timer calls it often enough.
    void servePedals();
    /// [message] The rung that was played last comes again at its tempo. Our own clock alone can be taken
    /// back: false while another leads.
    bool pressRepeat();

    /// MIDI by JACK as well, where a server runs: for the Standalone, which no host gives MIDI. Once.
    void useJackMidi();

    /// The sound devices of the Standalone, nullptr where they are the host's affair. They outlive the
    /// plugin or are taken back.
    void useSoundDevices(SoundDevices* devices);
    [[nodiscard]] SoundDevices* soundDevices() const { return ownDevices; }
    /// [message] What comes in now.
    [[nodiscard]] InputEar::Heard hearInput(bool withPitch) { return ear.heard(getSampleRate(), withPitch); }

    /// Kept sound, into the output.
    [[nodiscard]] Playback& playback() { return kept; }

    /// [message] Sends clicks to the output and finds them in the input, which takes about seven seconds;
    /// what came of it stands in the view's messages and round trip. Refused with words while the transport
    /// runs, while it is being measured, or where there is no input or output.
    Result<Done> measureRoundTrip();

    /// [message] The session's thread, for the window. Started by the first prepareToPlay(), or here.
    Worker& startedWorker();
    [[nodiscard]] const Worker& session() const { return worker; }
    /// The automatable parameters.
    [[nodiscard]] Parameters& parameterSet() { return parameters; }
    [[nodiscard]] const ClockView& clock() const { return path.clock; }
    [[nodiscard]] FeedLosses losses() const { return path.feed.losses(); }

    /// The key or pedal the player pressed last, for learning. `count` rises with each press; 0 = none yet.
    struct Pressed {
        std::uint32_t count = 0;
        int number = 0; ///< note or controller, 0..127
        bool isController = false;
    };
    [[nodiscard]] Pressed lastPressed() const noexcept;
    /// Whether any note or sound has come in since the plugin was made.
    [[nodiscard]] bool inputHeard() const noexcept { return heardAnything.load(std::memory_order_relaxed); }

private:
    /// Counts rises of the Take parameter, however short; hosts call it on any thread. Like a pedal (see
    /// PedalPresses) it must have come back before it can rise again.
    struct MarkCounter final : juce::AudioProcessorParameter::Listener {
        void parameterValueChanged(int, float value) override;
        void parameterGestureChanged(int, bool) override {}
        std::atomic<bool> pressed{false};
        std::atomic<std::uint32_t> rises{0};
    };

    /// Serves pedals on the message thread. Hosts may take a plugin away on another one while JUCE is just
    /// calling the timer, so it lives on until the message thread lets it go.
    class PedalTimer final : public juce::Timer {
    public:
        explicit PedalTimer(Processor& of) : owner(&of) {}
        /// [any] No call comes to the owner from now on, nor is one under way.
        void leave();

    private:
        void timerCallback() override;
        std::mutex mutex;
        Processor* owner;
    };

    void handleAsyncUpdate() override;
    void stopBehindTheDrill();
    void notice(const MidiEvent& event) noexcept;
    void noticePedals(const MidiEvent& event) noexcept;
    void usePedals(const Pedals& pedals) noexcept;
    [[nodiscard]] bool othersClockRolls() const noexcept;
    /// What the round trip depends on: device or host, rate, block.
    [[nodiscard]] std::string device() const;
    void process(juce::AudioBuffer<float>& audio, juce::MidiBuffer& midi, bool bypassed) noexcept;
    [[nodiscard]] HostBlock readHost(int samples, bool bypassed) noexcept;
    void receive(const juce::MidiBuffer& midi, int samples) noexcept;
    void receivePorts(int samples) noexcept;
    void sendPorts(std::span<const MidiEvent> events) noexcept;
    void noticePress(const MidiEvent& event) noexcept;
    void noticeSound(const juce::AudioBuffer<float>& audio) noexcept;

    Parameters parameters;
    AudioPath path;
    MidiOut midiOut;
    std::span<const TimeReport> timeReports; ///< [audio]
    SparsePosition sparsePosition;           ///< [audio]
    PlayedTempo playedTempo;                 ///< [audio]
    std::vector<MidiEvent> heard;            ///< [audio] fixed capacity
    GuideSettings guideSent;                 ///< [audio]
    PedalPresses presses;                    ///< [audio]
    MarkCounter markCounter;
    std::atomic<std::uint32_t> handPresses{0};
    std::atomic<std::uint32_t> pressed{0}; ///< count << 8 | isController << 7 | number
    std::atomic<bool> heardAnything{false};
    /// Start's and Repeat's pedals as the audio thread reads them: a note and a controller each, -1 = none.
    std::atomic<int> startNote{-1}, startController{-1}, repeatNote{-1}, repeatController{-1};
    std::atomic<std::uint32_t> startPedals{0}, repeatPedals{0}; ///< presses
    std::atomic<std::uint32_t> repeats{0};                      ///< by pedal or button
    std::uint32_t startPedalsDone = 0, repeatPedalsDone = 0;    ///< [message]
    Playback kept;
    MidiPorts ports;
    std::unique_ptr<JackMidi> jackMidi; ///< after the queues that it uses

    std::shared_ptr<PedalTimer> pedalTimer = std::make_shared<PedalTimer>(*this);

    SoundDevices* ownDevices = nullptr;
    InputEar ear;
    /// Hosts restore a state on one thread while they prepare, or open the window, on another: the session
    /// starts once, with what was set last. Neither this one nor the next is taken by the audio thread.
    std::mutex setupMutex;
    mutable std::mutex configMutex; ///< of inUse
    SessionConfig inUse;
    Worker worker; ///< last: it ends before what it uses
};

} // namespace valveladder
