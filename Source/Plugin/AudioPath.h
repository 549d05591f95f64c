#pragma once

#include "Guide/Guide.h"
#include "Guide/OwnClock.h"
#include "Plugin/ClickSound.h"
#include "Plugin/Controls.h"
#include "Plugin/Feed.h"
#include "Plugin/Handoff.h"
#include "Plugin/LinkClock.h"
#include "Plugin/RungAgain.h"
#include "Sound/OwnSound.h"

#include <atomic>
#include <cstdint>
#include <memory>
#include <span>

namespace valveladder {

/// What the audio thread plays from. Immutable.
struct DrillInUse {
    std::shared_ptr<const GuideTrack> track; ///< never null
    double plannedBpm = 60.0;
};

/// Where the leading clock stands, for the window. [any] Each field is exact; two may be a block apart.
struct ClockView {
    std::atomic<double> ppq{0.0};
    std::atomic<double> startPpq{0.0}; ///< where the drill's tick 0 lies
    std::atomic<double> bpm{0.0};      ///< 0 = the leading clock gives none
    std::atomic<bool> playing{false};
    std::atomic<Clock> clock{Clock::none};
};

/// What happens on the audio thread: one block in, guide events out, everything heard to the worker. Knows no
/// host format, and no block size: a host that exceeds what it announced does no harm.
class AudioPath {
public:
    struct Input {
        HostBlock host;
        bool recordingUnknown = false; ///< see FeedBlock
        bool positionAssumed = false;  ///< see FeedBlock
        Controls controls;
        std::span<const MidiEvent> midi; ///< relative to the block
        SoundIn sound;
        std::uint32_t marks = 0;       ///< see FeedBlock
        std::uint32_t handPresses = 0; ///< see FeedBlock
        std::uint32_t repeats = 0;     ///< presses of Repeat, counted from the start
        bool waitForWorker = false;    ///< offline, and a worker is running
    };

    /// [audio] Events of the guide, sorted, relative to the block; valid until the next call.
    std::span<const MidiEvent> process(const Input& input) noexcept;

    /// [audio] Of the block last processed: no take can run in it, nor is it rendered to a file or used to
    /// measure, so that other sound may go to the output.
    [[nodiscard]] bool freeForOtherSound() const noexcept { return freeOutput; }

    Handoff<DrillInUse> drills; ///< published from the worker
    Feed feed;
    ClockView clock;
    LinkClock link;
    OwnSound sound;    ///< after process(), is to be added to the output
    ClickSound clicks; ///< and then the output is to be rendered by it

private:
    /// Which clock leads, and what it says.
    void lead(FeedBlock& block, const Input& input, const DrillInUse* drill) noexcept;
    void leadOurselves(FeedBlock& block, const Input& input, const DrillInUse* drill) noexcept;
    void show(const FeedBlock& block) noexcept;
    /// Where our own clock stood last, for Repeat.
    struct OwnPlace {
        double ppq = 0.0;
        double bpm = 0.0; ///< 0 = it never ran
        std::uint64_t trackId = 0;
    };
    /// Our own clock back to the rung it played last; false where there is none.
    [[nodiscard]] bool goBack(const FeedBlock& block, const DrillInUse* drill) noexcept;

    std::int64_t samplesDone = 0;
    bool freeOutput = true;
    OwnPlace lastOwn;
    RungStart wentBack; ///< the rung that Repeat went back to last
    std::uint32_t repeatsSeen = 0;
    bool repeatWanted = false;
    OwnClock ownClock;
    Guide guide;
};

} // namespace valveladder
