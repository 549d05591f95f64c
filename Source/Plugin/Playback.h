#pragma once

#include "KeptSound/TakePlayback.h"

#include <readerwriterqueue/readerwriterqueue.h>

#include <array>
#include <atomic>
#include <condition_variable>
#include <cstdint>
#include <functional>
#include <mutex>
#include <optional>
#include <stop_token>
#include <string>
#include <thread>
#include <vector>

namespace valveladder {

/// Plays kept sound into the plugin's output: a thread of its own reads and slows the files, a lock-free
/// queue brings the samples to the audio thread. Runs whether or not the transport does, and ends at once
/// where a take may be recorded.
class Playback {
public:
    struct Order {
        /// What to play, found out on the playing thread: it may read files for that.
        std::function<Result<std::vector<PlayedPiece>>()> pieces;
        double slowness = 1.0; ///< 1..StretchedSound::slowest
    };

    struct State {
        enum class Kind {
            idle,
            finding, ///< the files are being read
            playing,
            cutOff, ///< a take runs, or may: nothing is played into it
            broken  ///< see `problem`
        } kind = Kind::idle;
        std::size_t piece = 0; ///< of the order's, while playing
        double seconds = 0.0;  ///< in its file, of what sounds now
        std::optional<Problem> problem;
    };

    Playback() = default;
    ~Playback();
    Playback(const Playback&) = delete;
    Playback& operator=(const Playback&) = delete;

    // [message]
    void setRate(double hz) { rate.store(hz, std::memory_order_relaxed); }
    void play(Order order); ///< in place of what was playing
    void stop();
    [[nodiscard]] State state() const;

    /// [audio] Adds what is to be heard to every channel; with `allowed` false the playing ends.
    void render(float* const* channels, int channelCount, int samples, bool allowed) noexcept;

private:
    /// Generation 0 is silence; every order has its own, so that what is left of an old one is dropped.
    using Generation = std::uint32_t;
    struct Chunk {
        Generation generation = 0;
        std::uint32_t piece = 0;
        float seconds = 0.0F; ///< in the file, of the first value
        int count = 0;
        std::array<float, 256> values{};
    };
    /// At 48 kHz 0.34 s: longer than a busy disk, and a stop empties it in one block.
    static constexpr std::size_t queueChunks = 64;

    void run(const std::stop_token& end);
    void perform(Order& order, Generation mine, const std::stop_token& end);
    [[nodiscard]] std::optional<Problem> send(const PlayedPiece& piece, std::uint32_t number, double slowness,
                                              Generation mine, const std::stop_token& end);
    [[nodiscard]] bool put(const Chunk& chunk, const std::stop_token& end);
    [[nodiscard]] bool over(Generation mine, const std::stop_token& end) const;
    void waitForEnd(Generation mine, const std::stop_token& end);
    void say(State::Kind now, std::optional<Problem> problem = std::nullopt);
    [[nodiscard]] bool nextChunk(Generation now) noexcept;

    std::atomic<double> rate{48000.0};
    std::atomic<Generation> wanted{0};   ///< what is to sound
    std::atomic<Generation> cutOff{0};   ///< what the audio thread refused
    std::atomic<std::uint64_t> taken{0}; ///< chunks begun by the audio thread
    std::atomic<std::uint32_t> pieceNow{0};
    std::atomic<float> secondsNow{0.0F};
    moodycamel::ReaderWriterQueue<Chunk> queue{queueChunks};

    // [audio]
    Chunk current;
    int at = 0;
    float tail = 0.0F; ///< the last value, fading: a stop must not click

    // [playing thread]
    std::uint64_t sent = 0;

    mutable std::mutex mutex;
    std::condition_variable_any changed;
    std::optional<Order> next;
    Generation newest = 0;
    State::Kind kind = State::Kind::idle;
    std::optional<Problem> trouble;
    std::jthread thread; ///< last; made by the first order
};

} // namespace valveladder
