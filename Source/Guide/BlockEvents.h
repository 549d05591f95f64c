#pragma once

#include "Guide/MidiEvent.h"

#include <array>
#include <cstddef>
#include <span>

namespace valveladder {

/// The events of one block, in memory of its own. What ends something is given room that nothing else may
/// take, so that a full block can always fall silent.
class BlockEvents {
public:
    static constexpr std::size_t capacity = 1024;
    /// Note-offs of guide, click and sixteen backing notes, four valves, clock stop and song position, twice
    /// over.
    static constexpr std::size_t reserve = 48;

    void clear() noexcept { used = 0; }
    /// True when only the reserve is left.
    [[nodiscard]] bool full() const noexcept { return used + reserve >= capacity; }

    /// Precondition: there is room (see full).
    void add(int sample, std::array<std::uint8_t, 3> bytes, std::uint8_t size = 3) noexcept {
        if (used < capacity)
            list[used++] = MidiEvent{sample, size, bytes};
    }

    [[nodiscard]] std::span<const MidiEvent> all() const noexcept { return {list.data(), used}; }

private:
    std::array<MidiEvent, capacity> list{};
    std::size_t used = 0;
};

} // namespace valveladder
