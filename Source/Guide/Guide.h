#pragma once

#include "Guide/GuideSettings.h"
#include "Guide/HostBlock.h"
#include "Guide/MidiEvent.h"
#include "Score/Score.h"

#include <array>
#include <span>
#include <vector>

namespace valveladder {

/// Where the musical time of a block stands in the drill.
struct DrillPosition {
    bool inside = false; ///< false before the start, and after the end when not repeating
    std::int64_t lap = 0;
    Tick tick = 0; ///< 0..score.length
};

/// Position in the drill as a pure function of the host's musical time.
[[nodiscard]] DrillPosition drillPosition(const Score& score, const GuideSettings& settings,
                                          double ppq) noexcept;

/// Host position to guide events, block by block. [audio]: process() never allocates, locks or throws.
///
/// An event's sample is round((event ppq - block ppq) * 60 / bpm * rate). Nothing accumulates: the block's
/// own ppq is the truth, and what is kept between blocks is only the notes now sounding and the first tick
/// not yet sent, so that rounding at a block's edge neither loses nor doubles an event. A jump, loop, stop,
/// bypass, new score or switched part ends what sounds at the first sample of the new state.
class Guide {
public:
    /// At most this many events a block; further ones come in the next block, late but not lost.
    static constexpr int maxEvents = 1024;

    Guide();

    /// Events of this block, sorted by sample, valid until the next call. `score` may be null or another one
    /// than before; it must outlive the call only.
    std::span<const MidiEvent> process(const HostBlock& block, const Score* score,
                                       const GuideSettings& settings) noexcept;

    /// Forget position without sending anything (after prepareToPlay).
    void reset() noexcept;

    /// True while a note-on has been sent whose note-off has not.
    [[nodiscard]] bool sounding() const noexcept;

private:
    // Laid out by the implementation.
    struct State;
    std::vector<MidiEvent> events;
};

} // namespace valveladder
