#pragma once

#include "Guide/GuideSettings.h"
#include "Guide/GuideTrack.h"

#include <array>
#include <cstdint>
#include <vector>

namespace valveladder {

/// A MIDI message of the guide at a tick of the score. Bytes beyond `size` are zero.
struct GuideEvent {
    Tick tick = 0;
    int order = 0; ///< rank among events of one tick: what ends comes before what begins
    GuidePart part = GuidePart::notes;
    std::uint8_t size = 3;
    std::array<std::uint8_t, 3> bytes{};

    bool operator==(const GuideEvent&) const = default;
};

/// True where the settings send the part the cue belongs to.
[[nodiscard]] bool sends(const GuideSettings& settings, const GuideCue& cue) noexcept;

/// `channelBits` 0..15, as in a status byte.
[[nodiscard]] std::array<std::uint8_t, 3> noteOffMessage(std::uint8_t channelBits, std::uint8_t key) noexcept;
/// Controllers 20..23 for `valve` 1..4: 127 pressed, 0 up.
[[nodiscard]] std::array<std::uint8_t, 3> valveMessage(std::uint8_t channelBits, int valve,
                                                       bool pressed) noexcept;

/// The message of a cue. Precondition: settings are tidied.
[[nodiscard]] std::array<std::uint8_t, 3> message(const GuideCue& cue,
                                                  const GuideSettings& settings) noexcept;

/// Everything the guide sends in one lap of the score (count-in included), sorted by tick and order; MIDI
/// clock is not among it. Note-offs come before note-ons of the same tick; every note-on has its note-off.
/// Valve lanes change at the note's onset and are all up at the end of a span.
[[nodiscard]] std::vector<GuideEvent> guideEvents(const Score& score, const GuideSettings& settings);

} // namespace valveladder
