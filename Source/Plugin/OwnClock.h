#pragma once

#include "Guide/HostBlock.h"

#include <cstdint>

namespace valveladder {

/// The clock that leads when the host gives none, or stands still. [audio]
///
/// ppq = anchor + samples since the anchor * bpm / 60 / rate; the anchor moves only when tempo or rate change,
/// so that nothing accumulates.
class OwnClock {
public:
    /// A block of the running clock; the first after stop() begins at `startPpq`. `bpm` > 0, quarters a
    /// minute. A run of the own clock counts as a recording pass, as there is no host that records.
    [[nodiscard]] HostBlock run(HostBlock block, double startPpq, double bpm) noexcept;
    void stop() noexcept { running = false; }

private:
    bool running = false;
    double anchorPpq = 0.0;
    std::int64_t samplesSinceAnchor = 0;
    double bpm = 60.0;
    double sampleRate = 48000.0;

    [[nodiscard]] double position() const noexcept;
};

} // namespace valveladder
