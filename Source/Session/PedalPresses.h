#pragma once

#include "Guide/MidiEvent.h"

#include <bitset>

namespace valveladder {

/// Which messages of a MIDI stream press something down: a note-on, or a controller that rises to
/// switchOnFrom. It must have come back to 48 before it can be pressed again, so that a continuous pedal on
/// its way, or one that trembles at its middle, counts once. [any one thread]
class PedalPresses {
public:
    /// To be given every message, in order.
    [[nodiscard]] bool press(const MidiEvent& event) noexcept {
        if (!event.isController())
            return event.isNoteOn();
        const auto place = static_cast<std::size_t>(event.bytes[0] & 0x0F) * 128U + (event.bytes[1] & 0x7FU);
        const bool wasDown = down[place];
        if (event.bytes[2] >= switchOnFrom)
            down.set(place);
        else if (event.bytes[2] <= releasedTo)
            down.reset(place);
        return !wasDown && down[place];
    }

private:
    static constexpr int releasedTo = 48;
    std::bitset<std::size_t{16} * 128U> down; ///< controllers by channel
};

} // namespace valveladder
