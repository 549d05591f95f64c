#pragma once

#include "Guide/HostBlock.h"

#include <cstdint>

namespace valveladder {

/// Musical time of our own, for when the host gives none or stands still and the player starts the drill.
/// [audio]: every call comes from the audio thread, none allocates or locks; requests of other threads are
/// carried there by whoever owns the clock.
///
/// Within one tempo the position is computed from the sample count, never summed. A new tempo is taken up at
/// the next lap boundary (start position plus a multiple of the score's length), so that no take changes
/// tempo: the block after it lies where the new tempo puts it, to the sample.
class OwnClock {
public:
    /// Rolls from `ppq` on; the first sample of the next block lies there. An unusable tempo or position
    /// (see Tempo/SampleTime.h) leaves the clock as it was and returns false.
    bool start(double ppq, double bpm) noexcept;
    void stop() noexcept { rolling = false; }
    [[nodiscard]] bool running() const noexcept { return rolling; }

    /// For the next lap boundary; an unusable tempo is ignored and returns false.
    bool requestTempo(double bpm) noexcept;
    [[nodiscard]] double bpm() const noexcept { return tempo; }

    /// The block with our time in place of the host's: playing, not looping, our position and tempo. Laps
    /// start at `startPpq` and every `lapQuarters` after it; `lapQuarters` <= 0: no laps, a new tempo is
    /// taken up at once. When not running, or the block's rate is unusable: the block, stopped.
    HostBlock lead(HostBlock block, double startPpq, double lapQuarters) noexcept;

private:
    void takeUpTempo(double startPpq, double lapQuarters) noexcept;
    void advance(int samples, double startPpq, double lapQuarters) noexcept;
    [[nodiscard]] double position() const noexcept;
    void anchor(double ppq) noexcept;

    bool rolling = false;
    double tempo = 60.0;
    double wanted = 60.0;
    double rate = 48000.0;
    double anchorPpq = 0.0;
    std::int64_t sinceAnchor = 0; ///< samples
};

} // namespace valveladder
