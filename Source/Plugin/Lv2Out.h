#pragma once

#include <lv2/atom/atom.h>

#include <cstddef>
#include <cstdint>
#include <vector>

namespace valveladder {

/// The plugin's outgoing events between JUCE's wrapper and the host's buffer.
///
/// JUCE's wrapper writes into whatever room the host gives: where that is too small for a sequence's own head
/// (a host that runs a plugin once to learn its latency gives eight bytes) its writer goes through a null
/// pointer, and where the events outgrow it the last is cut in two. So it writes here, where there is always
/// room, and whole events are passed on as far as they fit; what is left comes first in the next block.
class Lv2Out {
public:
    Lv2Out();

    /// [audio] What JUCE's wrapper is to write into, emptied.
    [[nodiscard]] LV2_Atom_Sequence* scratch() noexcept;
    /// [audio] Passes on what was written; `host` is the host's buffer (may be null), whose atom.size says
    /// how much it holds.
    void passOn(LV2_Atom_Sequence* host) noexcept;

private:
    struct Place;
    [[nodiscard]] static bool put(Place& place, const LV2_Atom_Event& event, std::int64_t frame) noexcept;

    std::vector<std::uint64_t> room;    ///< scratch; 8 bytes aligned as atoms are
    std::vector<std::uint64_t> waiting; ///< events that did not fit, end to end
    std::size_t waitingBytes = 0;
};

} // namespace valveladder
