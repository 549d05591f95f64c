#pragma once

#include "Host/HostRig.h"
#include "Score/Score.h"

#include <cstdint>
#include <vector>

namespace valveladder::host {

/// A guide note in samples of the rig's time.
struct GuideNote {
    std::int64_t on = 0;
    std::int64_t off = 0;
    MidiNote pitch = 60;
    int velocity = 80;
};

/// What the guide must play, worked out from the score and the blocks alone, without the guide's own code:
/// notes whose onset lies in a stretch of contiguous blocks, ended by their gate or by the stretch's end,
/// whichever comes first. The drill starts at ppq 0 and repeats.
[[nodiscard]] std::vector<GuideNote> expectedNotes(const Score& score, const std::vector<Told>& told);

/// Notes of `channel` as they were sent; a note-on without note-off gets off = -1, and a note-off without a
/// note-on is a note with on = -1.
[[nodiscard]] std::vector<GuideNote> sentNotes(const std::vector<Sent>& sent, int channel);

} // namespace valveladder::host
