#include "Plugin/Playback.h"

#include "KeptSound/StretchedSound.h"
#include "View/PluginWords.h"

#include <algorithm>
#include <chrono>

namespace valveladder {

namespace {

using namespace std::chrono_literals;

constexpr auto pause = 5ms;
/// No device takes longer to ask for the next block.
constexpr auto longestWait = 2s;
/// Between two takes that play in turn.
constexpr double gapSeconds = 0.5;
/// The last value fades by this each sample: under -60 dB after 9 ms at 48 kHz.
constexpr float fade = 0.984F;
constexpr float inaudible = 1e-6F;

Problem noSound() {
    return {words::noSoundRuns, words::playingSound, words::startSound};
}

} // namespace

Playback::~Playback() {
    thread.request_stop();
    changed.notify_all();
}

void Playback::play(Order order) {
    {
        const std::lock_guard lock(mutex);
        next = std::move(order);
        ++newest;
        kind = State::Kind::finding;
        trouble.reset();
        wanted.store(newest, std::memory_order_release);
    }
    if (!thread.joinable())
        thread = std::jthread([this](const std::stop_token& end) { run(end); });
    changed.notify_all();
}

void Playback::stop() {
    const std::lock_guard lock(mutex);
    next.reset();
    kind = State::Kind::idle;
    wanted.store(0, std::memory_order_release);
    changed.notify_all();
}

Playback::State Playback::state() const {
    const std::lock_guard lock(mutex);
    State result;
    result.kind = kind;
    result.problem = trouble;
    result.piece = pieceNow.load(std::memory_order_relaxed);
    result.seconds = static_cast<double>(secondsNow.load(std::memory_order_relaxed));
    return result;
}

void Playback::say(State::Kind now, std::optional<Problem> problem) {
    const std::lock_guard lock(mutex);
    if (wanted.load(std::memory_order_relaxed) == 0 || next)
        return; // stopped, or another order came meanwhile
    kind = now;
    trouble = std::move(problem);
    if (now != State::Kind::playing)
        wanted.store(0, std::memory_order_release);
}

bool Playback::over(Generation mine, const std::stop_token& end) const {
    return end.stop_requested() || wanted.load(std::memory_order_acquire) != mine ||
           cutOff.load(std::memory_order_acquire) == mine;
}

void Playback::run(const std::stop_token& end) {
    while (!end.stop_requested()) {
        Order order;
        Generation mine = 0;
        {
            std::unique_lock lock(mutex);
            if (!changed.wait(lock, end, [this] { return next.has_value(); }))
                return;
            order = std::move(*next);
            next.reset();
            mine = newest;
        }
        perform(order, mine, end);
        if (cutOff.load(std::memory_order_acquire) == mine)
            say(State::Kind::cutOff);
    }
}

void Playback::perform(Order& order, Generation mine, const std::stop_token& end) {
    const auto pieces = order.pieces();
    if (!pieces)
        return say(State::Kind::broken, pieces.problem());
    std::uint32_t number = 0;
    for (const PlayedPiece& piece : pieces.value()) {
        if (auto problem = send(piece, number++, order.slowness, mine, end))
            return say(State::Kind::broken, std::move(problem));
        if (over(mine, end))
            return;
    }
    waitForEnd(mine, end);
    if (!over(mine, end))
        say(State::Kind::idle);
}

std::optional<Problem> Playback::send(const PlayedPiece& piece, std::uint32_t number, double slowness,
                                      Generation mine, const std::stop_token& end) {
    const double hz = rate.load(std::memory_order_relaxed);
    auto opened = StretchedSound::open(piece, slowness, hz);
    if (!opened)
        return opened.problem();
    StretchedSound& sound = *opened.value();
    say(State::Kind::playing);
    Chunk chunk;
    chunk.generation = mine;
    chunk.piece = number;
    chunk.seconds = static_cast<float>(piece.fromSeconds);
    const auto gap = number == 0 ? 0 : static_cast<int>(gapSeconds * hz);
    for (int left = gap; left > 0; left -= chunk.count) {
        chunk.count = std::min(left, static_cast<int>(chunk.values.size()));
        if (!put(chunk, end))
            return over(mine, end) ? std::nullopt : std::optional(noSound());
    }
    while (!over(mine, end)) {
        chunk.seconds = static_cast<float>(sound.seconds());
        chunk.count = static_cast<int>(sound.read(chunk.values));
        if (chunk.count == 0)
            return std::nullopt;
        if (!put(chunk, end))
            return over(mine, end) ? std::nullopt : std::optional(noSound());
    }
    return std::nullopt;
}

/// False when the playing is over, or nobody takes the sound.
bool Playback::put(const Chunk& chunk, const std::stop_token& end) {
    const auto limit = std::chrono::steady_clock::now() + longestWait;
    while (!queue.try_enqueue(chunk)) {
        if (over(chunk.generation, end) || std::chrono::steady_clock::now() > limit)
            return false;
        std::this_thread::sleep_for(pause);
    }
    ++sent;
    return true;
}

void Playback::waitForEnd(Generation mine, const std::stop_token& end) {
    const auto limit = std::chrono::steady_clock::now() + longestWait;
    while (!over(mine, end) && taken.load(std::memory_order_acquire) < sent &&
           std::chrono::steady_clock::now() < limit)
        std::this_thread::sleep_for(pause);
}

bool Playback::nextChunk(Generation now) noexcept {
    while (queue.try_dequeue(current)) {
        taken.fetch_add(1, std::memory_order_release);
        if (current.generation != now)
            continue;
        at = 0;
        pieceNow.store(current.piece, std::memory_order_relaxed);
        secondsNow.store(current.seconds, std::memory_order_relaxed);
        return true;
    }
    current.count = 0;
    at = 0;
    return false;
}

void Playback::render(float* const* channels, int channelCount, int samples, bool allowed) noexcept {
    Generation now = wanted.load(std::memory_order_acquire);
    if (!allowed && now != 0) {
        cutOff.store(now, std::memory_order_release);
        now = 0;
    } else if (now != 0 && cutOff.load(std::memory_order_relaxed) == now) {
        now = 0;
    }
    for (int i = 0; i < samples; ++i) {
        const bool has = now != 0 && ((at < current.count && current.generation == now) || nextChunk(now));
        if (has)
            tail = current.values[static_cast<std::size_t>(at++)];
        else if (tail > inaudible || tail < -inaudible)
            tail *= fade;
        else if (now == 0)
            return;
        else
            tail = 0.0F;
        for (int channel = 0; channel < channelCount; ++channel)
            channels[channel][i] += tail;
    }
}

} // namespace valveladder
