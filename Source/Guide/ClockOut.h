#pragma once

#include "Guide/BlockEvents.h"
#include "Guide/HostTime.h"

#include <cstdint>

namespace valveladder {

/// MIDI clock on the host's own grid, 24 pulses a quarter, host position 0 = start of the song.
/// Source: MIDI 1.0 Detailed Specification, System Real Time and System Common messages.
///
/// From position 0 a follower gets Start, from elsewhere Song Position (in sixteenths, the next one at or
/// after the position) and Continue at that sixteenth; both right before the pulse they belong to. Pulses
/// run while the host rolls, before Start as well, so that a follower knows the tempo. A jump stops, places
/// and continues. Past sixteenth 16383 there is no Song Position; the follower continues from where it is.
class ClockOut {
public:
    /// The first block, or one after a jump: stops a running follower and tells it where to go on.
    void locate(const BlockTime& time, int firstSample, BlockEvents& events) noexcept;
    void stop(int sample, BlockEvents& events) noexcept;
    /// Offset of the next pulse from the block's first sample.
    [[nodiscard]] std::int64_t nextOffset(const BlockTime& time) const noexcept;
    /// Sends the next pulse.
    void pulse(int sample, BlockEvents& events) noexcept;

private:
    std::int64_t next = 0;
    std::int64_t startsAt = 0;
    bool running = false;
};

} // namespace valveladder
