#pragma once

#include "Plugin/MidiPorts.h"

#include <memory>
#include <string>

namespace valveladder {

/// MIDI ports "player" (in) and "guide" (out) on a JACK server, for the Standalone where the system's own
/// sequencer is missing or not bridged. The JACK library is looked for at run time; JACK's process thread
/// does nothing but move events between ports and queues.
class JackMidi {
public:
    /// Nothing where there is no library, or no server runs; none is started.
    [[nodiscard]] static std::unique_ptr<JackMidi> open(MidiPorts& ports, const std::string& clientName);
    ~JackMidi();
    JackMidi(const JackMidi&) = delete;
    JackMidi& operator=(const JackMidi&) = delete;

private:
    struct Inside;
    explicit JackMidi(std::unique_ptr<Inside> parts);
    std::unique_ptr<Inside> inside;
};

} // namespace valveladder
