#pragma once

#include <array>
#include <cstdint>
#include <span>

namespace valveladder {

// Status bytes of channel messages (MIDI 1.0 Detailed Specification, table I): the kind in the high four
// bits, the channel, from 0, in the low four.
inline constexpr std::uint8_t noteOffStatus = 0x80;
inline constexpr std::uint8_t noteOnStatus = 0x90;
inline constexpr std::uint8_t controllerStatus = 0xB0;

/// The status without its channel. Precondition, as of those below: a whole message, status first.
[[nodiscard]] constexpr int kindBits(std::span<const std::uint8_t> message) {
    return message[0] & 0xF0;
}
/// A note-on of velocity 0 is a note-off.
[[nodiscard]] constexpr bool isNoteOn(std::span<const std::uint8_t> message) {
    return kindBits(message) == noteOnStatus && message[2] > 0;
}
[[nodiscard]] constexpr bool isNoteOff(std::span<const std::uint8_t> message) {
    const int kind = kindBits(message);
    return kind == noteOffStatus || (kind == noteOnStatus && message[2] == 0);
}
[[nodiscard]] constexpr bool isController(std::span<const std::uint8_t> message) {
    return kindBits(message) == controllerStatus;
}

/// A short MIDI message at a sample of the block. Bytes beyond `size` are zero.
struct MidiEvent {
    int sample = 0;
    std::uint8_t size = 3; ///< 1..3
    std::array<std::uint8_t, 3> bytes{};

    [[nodiscard]] bool isNoteOn() const { return valveladder::isNoteOn(bytes); }
    [[nodiscard]] bool isNoteOff() const { return valveladder::isNoteOff(bytes); }
    [[nodiscard]] bool isController() const { return valveladder::isController(bytes); }
    [[nodiscard]] int channel() const { return (bytes[0] & 0x0F) + 1; }

    bool operator==(const MidiEvent&) const = default;
};

/// MIDI controllers 20..23 carry valves 1..4 (0 = up, 127 = pressed). Undefined by MIDI 1.0, so free for
/// this.
inline constexpr int firstValveController = 20;

/// A switch controller is on from this value and off below (MIDI 1.0 Detailed Specification, control change:
/// 0 to 63 off, 64 to 127 on).
inline constexpr std::uint8_t switchOnFrom = 64;

/// In a note-off, the velocity of instruments that do not sense how a key is let go (MIDI 1.0 Detailed
/// Specification, note-off).
inline constexpr std::uint8_t releaseVelocity = 64;

} // namespace valveladder
