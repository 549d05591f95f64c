#include "Plugin/Lv2Out.h"

#include <lv2/atom/util.h>

#include <algorithm>
#include <cstring>

namespace valveladder {

namespace {

/// Above what a block of the guide's most events (24 bytes each) and all parameters come to.
constexpr std::size_t roomBytes = std::size_t{64} << 10U;

std::uint32_t bytesOf(const LV2_Atom_Event& event) {
    return lv2_atom_pad_size(static_cast<std::uint32_t>(sizeof(LV2_Atom_Event)) + event.body.size);
}

} // namespace

/// Where events are put, end to end.
struct Lv2Out::Place {
    std::uint8_t* to = nullptr;
    std::size_t used = 0;
    std::size_t capacity = 0;
};

Lv2Out::Lv2Out() : room(roomBytes / sizeof(std::uint64_t)), waiting(roomBytes / sizeof(std::uint64_t)) {}

LV2_Atom_Sequence* Lv2Out::scratch() noexcept {
    auto* sequence = reinterpret_cast<LV2_Atom_Sequence*>(room.data());
    sequence->atom = {static_cast<std::uint32_t>(roomBytes - sizeof(LV2_Atom)), 0};
    return sequence;
}

bool Lv2Out::put(Place& place, const LV2_Atom_Event& event, std::int64_t frame) noexcept {
    const std::size_t bytes = bytesOf(event);
    if (place.used + bytes > place.capacity)
        return false;
    std::memcpy(place.to + place.used, &event, sizeof(LV2_Atom_Event) + event.body.size);
    reinterpret_cast<LV2_Atom_Event*>(place.to + place.used)->time.frames = frame;
    place.used += bytes;
    return true;
}

void Lv2Out::passOn(LV2_Atom_Sequence* host) noexcept {
    const auto* written = reinterpret_cast<const LV2_Atom_Sequence*>(room.data());
    Place out;
    if (host != nullptr && host->atom.size > sizeof(LV2_Atom_Sequence_Body))
        out = {reinterpret_cast<std::uint8_t*>(host + 1), 0,
               host->atom.size - sizeof(LV2_Atom_Sequence_Body)};
    auto* store = reinterpret_cast<std::uint8_t*>(waiting.data());
    Place later{store, 0, waiting.size() * sizeof(std::uint64_t)};
    bool full = false;
    std::size_t passed = 0;
    while (passed < waitingBytes && !full) {
        const auto& event = *reinterpret_cast<const LV2_Atom_Event*>(store + passed);
        full = !put(out, event, 0);
        passed += full ? 0 : bytesOf(event);
    }
    later.used = waitingBytes - passed;
    std::memmove(store, store + passed, later.used);
    LV2_ATOM_SEQUENCE_FOREACH(written, event) {
        full = full || !put(out, *event, event->time.frames);
        if (full && !put(later, *event, 0))
            break; // a host that takes nothing at all
    }
    waitingBytes = later.used;
    if (host == nullptr)
        return;
    host->atom = {static_cast<std::uint32_t>(sizeof(LV2_Atom_Sequence_Body) + out.used), written->atom.type};
    host->body = {0, 0};
}

} // namespace valveladder
