#pragma once

#include "Guide/Guide.h"
#include "Guide/GuideTrack.h"
#include "Plugin/Feed.h"
#include "Plugin/Handoff.h"
#include "Plugin/OwnClock.h"

#include <atomic>
#include <cstdint>
#include <span>

namespace valveladder {

/// Where the leading clock stands, for the window. [any] Each field is exact; two may be a block apart.
struct ClockView {
    std::atomic<double> ppq{0.0};
    std::atomic<double> bpm{0.0}; ///< 0 = the leading clock gives none
    std::atomic<bool> playing{false};
    std::atomic<bool> ownClock{false};
    std::atomic<bool> hostHasPosition{false};
};

/// What happens on the audio thread: one block in, guide events out, everything heard to the worker. Knows no
/// host format, and no block size: a host that exceeds what it announced does no harm.
class AudioPath {
public:
    struct Input {
        HostBlock host;
        Controls controls;
        std::span<const MidiEvent> midi; ///< relative to the block
        SoundIn sound;
        std::uint32_t marks = 0;       ///< see FeedBlock
        std::uint32_t handPresses = 0; ///< see FeedBlock
        bool waitForWorker = false;    ///< offline, and a worker is running
    };

    /// [audio] Events of the guide, sorted, relative to the block; valid until the next call.
    std::span<const MidiEvent> process(const Input& input) noexcept;

    Handoff<GuideTrack> tracks; ///< published from the worker
    Feed feed;
    ClockView clock;

private:
    [[nodiscard]] HostBlock leadingBlock(const Input& input, const GuideSettings& settings,
                                         const GuideTrack* track) noexcept;
    void show(const HostBlock& block, bool hostHasPosition) noexcept;

    bool own = false;
    std::int64_t samplesDone = 0;
    OwnClock ownClock;
    Guide guide;
};

} // namespace valveladder
