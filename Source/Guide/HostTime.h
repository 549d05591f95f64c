#pragma once

#include "Guide/HostBlock.h"

#include <cstdint>
#include <optional>

namespace valveladder {

/// The musical time of a block that rolls, once its figures have been found usable.
struct BlockTime {
    double ppq = 0.0;
    double bpm = 120.0;
    double samplesPerQuarter = 24000.0;
    int samples = 0;
    bool playedOn = false; ///< see HostBlock

    /// Nearest sample of a position, from the block's first; negative before it. A position belongs to this
    /// block when that is 0..samples-1: one that rounds to the block's end belongs to the next.
    [[nodiscard]] std::int64_t offsetOf(double position) const noexcept;
    [[nodiscard]] double quarters() const noexcept { return samples / samplesPerQuarter; }
};

/// Nothing where no musical time passes: stopped, bypassed, no position, no tempo, or a figure that is
/// unusable (NaN, infinite, tempo outside minHostBpm..maxHostBpm, absurd rate, no samples). A host that says
/// such things is treated as stopped.
[[nodiscard]] std::optional<BlockTime> blockTime(const HostBlock& block) noexcept;

/// A block up to the host's loop end, and what follows from the loop's start.
struct LoopSplit {
    HostBlock head;
    std::optional<HostBlock> tail;
};

/// Splits where the host wraps inside the block; nothing where the block stands as it is: most hosts split
/// there themselves. Loops shorter than a 128th note are not followed. A block that starts within half a
/// sample of the loop's end starts in the next pass.
[[nodiscard]] std::optional<LoopSplit> splitAtLoopEnd(const HostBlock& block) noexcept;

/// Whether a block's position follows from the block before, or the host jumped (loop, locate, start).
///
/// The block before may have held any tempo between its own and this block's; beyond that, two samples, a
/// tenth of that block (a 64th note at most) or positionSlackQuarters pass, whichever is most. Where the
/// host's own count says that it was played on, a position that is nearer than another block's length passes:
/// the tempo that was told was not the one that was played.
class Continuity {
public:
    [[nodiscard]] bool follows(const BlockTime& block) const noexcept;
    void passed(const BlockTime& block) noexcept { last = block; }
    void forget() noexcept { last.reset(); }
    [[nodiscard]] bool any() const noexcept { return last.has_value(); }

private:
    std::optional<BlockTime> last;
};

} // namespace valveladder
