#pragma once

#include "Guide/MidiEvent.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <span>

namespace valveladder {

/// Puts events into the host's MIDI buffer without allocating: a buffer of ours with room to spare takes the
/// place of the host's own, once, as wrappers keep one buffer over their life. [audio]
class MidiOut {
public:
    /// Room for more than BlockEvents::capacity short messages of 9 bytes each in JUCE's storage.
    static constexpr int capacityBytes = 1 << 15;

    MidiOut() {
        spare.ensureSize(capacityBytes);
        storage = spare.data.begin();
    }

    /// Replaces whatever `midi` holds.
    void put(std::span<const MidiEvent> events, juce::MidiBuffer& midi) noexcept;

private:
    juce::MidiBuffer spare;
    const juce::uint8* storage = nullptr; ///< of the large buffer, wherever it is now
};

} // namespace valveladder
