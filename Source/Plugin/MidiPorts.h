#pragma once

#include "Guide/MidiEvent.h"

#include <readerwriterqueue/readerwriterqueue.h>

#include <atomic>

namespace valveladder {

/// MIDI that comes and goes beside the host's buffer. One thread writes `in` and reads `out`, the audio
/// thread does the opposite; neither waits. Events' samples are of the block in which they came; they are
/// passed on in the next one, so that distances within a block stay.
struct MidiPorts {
    /// Far more than a player sends in a block; what does not fit is lost.
    static constexpr std::size_t capacity = 1024;

    moodycamel::ReaderWriterQueue<MidiEvent> in{capacity};
    moodycamel::ReaderWriterQueue<MidiEvent> out{capacity};
    std::atomic<bool> open{false}; ///< somebody reads `out`
};

} // namespace valveladder
