#pragma once

#include "Base/Problem.h"

#include <string>
#include <vector>

namespace valveladder {

/// The sound and MIDI devices of a program that no host gives any: the Standalone's. [message]
class SoundDevices {
public:
    /// Names to choose from; `chosen` is -1 where none is.
    struct Choice {
        std::vector<std::string> names;
        int chosen = -1;
        bool operator==(const Choice&) const = default;
    };
    struct MidiInput {
        std::string name;
        bool on = false;
        bool operator==(const MidiInput&) const = default;
    };

    SoundDevices() = default;
    SoundDevices(const SoundDevices&) = delete;
    SoundDevices& operator=(const SoundDevices&) = delete;
    virtual ~SoundDevices() = default;

    [[nodiscard]] virtual Choice systems() const = 0; ///< "ALSA", "JACK", ...
    [[nodiscard]] virtual Choice outputs() const = 0;
    [[nodiscard]] virtual Choice inputs() const = 0;
    /// What of the input device is listened to: its first channels mixed, or one of them. Nothing to choose
    /// where it has one channel.
    [[nodiscard]] virtual Choice inputChannels() const = 0;
    [[nodiscard]] virtual std::vector<MidiInput> midiInputs() const = 0;
    /// Refused with words where the device cannot be opened; what was chosen before then stays.
    virtual Result<Done> chooseSystem(int index) = 0;
    virtual Result<Done> chooseOutput(int index) = 0;
    virtual Result<Done> chooseInput(int index) = 0;
    virtual Result<Done> chooseInputChannel(int index) = 0;
    virtual void listenToMidi(int index, bool on) = 0;
    /// Looks anew for what has been plugged in or out.
    virtual void look() = 0;
    /// "JACK: system"; empty where no sound runs.
    [[nodiscard]] virtual std::string name() const = 0;
};

} // namespace valveladder
