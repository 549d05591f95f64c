#include "Plugin/Feed.h"

#include <algorithm>
#include <chrono>
#include <thread>
#include <type_traits>

namespace valveladder {

namespace {

/// An offline render fills the queue as fast as it is emptied; the worker must come to its other duties.
constexpr std::size_t maxItemsAtOnce = Feed::defaultCapacity;

} // namespace

Feed::Feed(std::size_t capacity) : queue(capacity) {
    static_assert(std::is_trivially_copyable_v<Item>, "items are copied on the audio thread");
    touchAll();
}

void Feed::touchAll() {
    std::size_t items = 0;
    while (queue.try_enqueue(BlockEnd{}))
        ++items;
    for (Item item; items > 0; --items)
        queue.try_dequeue(item);
}

bool Feed::put(const Item& item, bool wait) noexcept {
    while (!queue.try_enqueue(item)) {
        if (!wait)
            return false;
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    return true;
}

void Feed::push(const FeedBlock& block, std::span<const MidiEvent> midi, const SoundIn& sound,
                bool wait) noexcept {
    FeedBlock stamped = block;
    stamped.lostBefore = losses();
    if (!put(stamped, wait)) {
        lostBlocks.fetch_add(1, std::memory_order_relaxed);
        lostMidiEvents.fetch_add(midi.size(), std::memory_order_relaxed);
        lostSamples.fetch_add(static_cast<std::uint64_t>(sound.channelCount > 0 ? sound.samples : 0),
                              std::memory_order_relaxed);
        return;
    }
    for (const auto& event : midi)
        if (!put(event, wait))
            lostMidiEvents.fetch_add(1, std::memory_order_relaxed);
    putSound(sound, wait);
    put(BlockEnd{}, wait); // when it does not fit, the next block's begin closes this one
}

void Feed::mix(const SoundIn& sound, int at, Sound& chunk) noexcept {
    const float share = 1.0F / static_cast<float>(sound.channelCount);
    for (int i = 0; i < chunk.samples; ++i) {
        float sum = 0.0F;
        for (int channel = 0; channel < sound.channelCount; ++channel)
            sum += sound.channels[channel][at + i];
        chunk.values[static_cast<std::size_t>(i)] = sum * share;
    }
}

void Feed::putSound(const SoundIn& sound, bool wait) noexcept {
    if (sound.channelCount <= 0)
        return;
    Sound chunk;
    for (int at = 0; at < sound.samples; at += chunkSamples) {
        chunk.at = at;
        chunk.samples = std::min(chunkSamples, sound.samples - at);
        mix(sound, at, chunk);
        if (!put(chunk, wait))
            lostSamples.fetch_add(static_cast<std::uint64_t>(chunk.samples), std::memory_order_relaxed);
    }
}

void Feed::takeSound(const Sound& chunk) {
    const auto at = static_cast<std::size_t>(chunk.at);
    if (received.sound.size() < at) {
        received.silenced += at - received.sound.size();
        received.sound.resize(at, 0.0F);
    }
    received.sound.insert(received.sound.end(), chunk.values.begin(), chunk.values.begin() + chunk.samples);
}

std::size_t Feed::drain(const std::function<void(const ReceivedBlock&)>& use) {
    std::size_t used = 0;
    const auto finish = [&] {
        if (receiving) {
            use(received);
            ++used;
        }
        receiving = false;
    };
    Item item;
    for (std::size_t items = 0; items < maxItemsAtOnce && queue.try_dequeue(item); ++items) {
        if (const auto* block = std::get_if<FeedBlock>(&item)) {
            finish();
            received.block = *block;
            received.midi.clear();
            received.sound.clear();
            received.silenced = 0;
            receiving = true;
        } else if (const auto* event = std::get_if<MidiEvent>(&item)) {
            received.midi.push_back(*event);
        } else if (const auto* sound = std::get_if<Sound>(&item)) {
            takeSound(*sound);
        } else {
            finish();
        }
    }
    return used;
}

FeedLosses Feed::losses() const noexcept {
    return {lostBlocks.load(std::memory_order_relaxed), lostMidiEvents.load(std::memory_order_relaxed),
            lostSamples.load(std::memory_order_relaxed)};
}

} // namespace valveladder
