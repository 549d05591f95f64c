#pragma once

#include "Guide/MidiEvent.h"

#include <readerwriterqueue/readerwriterqueue.h>

#include <atomic>
#include <cstdint>
#include <optional>

namespace valveladder {

/// A block of a clock that two threads share: frames of a running count, which wraps.
struct PortBlock {
    std::uint32_t start = 0;
    std::uint32_t frames = 0;
};

/// The clock of MIDI ports, which tells both sides alike which of its cycles runs now.
class PortClock {
public:
    virtual ~PortClock() = default;
    /// [audio]
    [[nodiscard]] virtual PortBlock cycle() const noexcept = 0;
};

/// A way for events between two threads that are called once a cycle each, in any order. An event comes out
/// one cycle after it went in, never sooner or later, at its place within it: what is late by a constant can
/// be reckoned with. Neither side waits.
class PortQueue {
public:
    /// Far more than a player sends in a block; what does not fit is lost.
    static constexpr std::size_t capacity = 1024;

    void put(const PortBlock& cycle, const MidiEvent& event) noexcept {
        queue.try_enqueue({cycle.start + static_cast<std::uint32_t>(event.sample), event});
    }
    /// The next event that is due in this cycle, if there is one.
    [[nodiscard]] bool take(const PortBlock& cycle, MidiEvent& event) noexcept {
        const Timed* next = queue.peek();
        if (next == nullptr)
            return false;
        const auto due = static_cast<std::int32_t>(next->frame + cycle.frames - cycle.start);
        const auto frames = static_cast<std::int32_t>(cycle.frames);
        if (due >= frames && due < 2 * frames)
            return false;
        event = next->event;
        event.sample = due >= 0 && due < frames ? due : 0; // the clock sprang: at once
        queue.pop();
        return true;
    }

private:
    struct Timed {
        std::uint32_t frame = 0; ///< at which it went in
        MidiEvent event;
    };
    moodycamel::ReaderWriterQueue<Timed> queue{capacity};
};

/// MIDI that comes and goes beside the host's buffer. One thread puts into `in` and takes from `out`, the
/// audio thread does the opposite.
struct MidiPorts {
    PortQueue in, out;
    std::atomic<const PortClock*> clock{nullptr}; ///< null: nobody is at the other end

    /// [audio] The cycle that runs now; nothing while nobody is at the other end.
    [[nodiscard]] std::optional<PortBlock> cycle() const noexcept {
        const PortClock* now = clock.load(std::memory_order_acquire);
        return now == nullptr ? std::nullopt : std::optional(now->cycle());
    }
};

} // namespace valveladder
