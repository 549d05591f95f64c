#include "Plugin/MidiOut.h"

namespace valveladder {

void MidiOut::put(std::span<const MidiEvent> events, juce::MidiBuffer& midi) noexcept {
    if (midi.data.begin() != storage)
        midi.swapWith(spare);
    midi.clear();
    for (const auto& event : events)
        midi.addEvent(event.bytes.data(), event.size, event.sample);
}

} // namespace valveladder
