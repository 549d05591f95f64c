#pragma once

#include "Guide/MidiEvent.h"
#include "Session/LedBlock.h"

#include <readerwriterqueue/readerwriterqueue.h>

#include <array>
#include <atomic>
#include <cstdint>
#include <functional>
#include <span>
#include <variant>
#include <vector>

namespace valveladder {

/// What was lost because the worker fell behind, since the feed was made.
struct FeedLosses {
    std::uint64_t blocks = 0;
    std::uint64_t midiEvents = 0;
    std::uint64_t samples = 0;

    [[nodiscard]] bool any() const { return blocks + midiEvents + samples > 0; }
    [[nodiscard]] FeedLosses since(const FeedLosses& before) const {
        return {blocks - before.blocks, midiEvents - before.midiEvents, samples - before.samples};
    }
};

/// What the audio thread tells the worker about one block.
struct FeedBlock : LedBlock {
    bool recordingUnknown = false; ///< the host cannot say whether it records
    bool positionAssumed = false;  ///< the host told bars, and quarters were made of them without proof
    bool link = false;             ///< Ableton Link is wanted
    std::uint32_t marks = 0;       ///< rises of the Take parameter, counted from the start
    std::uint32_t handPresses = 0; ///< presses of the window's take button, counted from the start
    std::int64_t clicksFrom = -1;  ///< where the clicks that sound began (see ClickSound), -1 = none
    FeedLosses lostBefore;         ///< set by the feed: all that was lost before this block
};

/// A block as the worker receives it. `midi` is relative to the block; `sound` holds the mean of the input's
/// channels, one value per frame, or nothing when there is no input. Of what was lost in its middle there is
/// silence in its place; where its end was lost it is shorter.
struct ReceivedBlock {
    FeedBlock block;
    std::vector<MidiEvent> midi;
    std::vector<float> sound;
    std::size_t silenced = 0; ///< samples of `sound` that stand for lost ones
};

/// Input of one block as the host gives it: `channels[0..channelCount)` of `samples` values each.
struct SoundIn {
    const float* const* channels = nullptr;
    int channelCount = 0; ///< 0 = no input
    int samples = 0;
};

/// The way from the audio thread to the worker: one queue, in order. What does not fit into a full queue is
/// lost and counted; with `wait` (offline render, where nobody hears a pause) the queue waits for the worker.
class Feed {
public:
    /// Samples in one item: a compromise between room lost on small blocks and items spent on large ones.
    static constexpr int chunkSamples = 64;
    /// At 48 kHz and blocks of 64 samples (three items each) about 14 s.
    static constexpr std::size_t defaultCapacity = 1U << 15U;

    explicit Feed(std::size_t capacity = defaultCapacity);

    /// [audio] A block, the events and the sound in it, and its end.
    void push(const FeedBlock& block, std::span<const MidiEvent> midi, const SoundIn& sound,
              bool wait) noexcept;

    /// [worker] Hands every complete block to `use`, in order, and returns how many there were. The block is
    /// valid during the call only.
    std::size_t drain(const std::function<void(const ReceivedBlock&)>& use);

    /// [any]
    [[nodiscard]] FeedLosses losses() const noexcept;

private:
    struct Sound {
        int at = 0; ///< of its first sample in the block
        int samples = 0;
        std::array<float, static_cast<std::size_t>(chunkSamples)> values{};
    };
    struct BlockEnd {};
    using Item = std::variant<FeedBlock, MidiEvent, Sound, BlockEnd>;

    /// Goes through the whole queue once: the system gives memory its pages at the first touch, which takes
    /// many times a block's own work and must not fall to the audio thread.
    void touchAll();
    static void mix(const SoundIn& sound, int at, Sound& chunk) noexcept;
    bool put(const Item& item, bool wait) noexcept;
    void putSound(const SoundIn& sound, bool wait) noexcept;
    void takeSound(const Sound& chunk);

    moodycamel::ReaderWriterQueue<Item> queue;
    std::atomic<std::uint64_t> lostBlocks{0};
    std::atomic<std::uint64_t> lostMidiEvents{0};
    std::atomic<std::uint64_t> lostSamples{0};
    ReceivedBlock received; ///< [worker] the block being put together
    bool receiving = false;
};

} // namespace valveladder
