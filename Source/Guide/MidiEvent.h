#pragma once

#include <array>
#include <cstdint>

namespace valveladder {

/// A short MIDI message at a sample of the block. Bytes beyond `size` are zero.
struct MidiEvent {
    int sample = 0;
    std::uint8_t size = 3; ///< 1..3
    std::array<std::uint8_t, 3> bytes{};

    [[nodiscard]] bool isNoteOn() const { return (bytes[0] & 0xF0) == 0x90 && bytes[2] > 0; }
    [[nodiscard]] bool isNoteOff() const {
        return (bytes[0] & 0xF0) == 0x80 || ((bytes[0] & 0xF0) == 0x90 && bytes[2] == 0);
    }
    [[nodiscard]] bool isController() const { return (bytes[0] & 0xF0) == 0xB0; }
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
