#pragma once

#include "Base/Problem.h"

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace valveladder {

/// An event of a Standard MIDI File 1.1 track at an absolute tick. `bytes` is the whole message: status and
/// data for channel messages; FF type and data for meta events (without their length); F0/F7 and data for
/// system exclusive.
struct SmfEvent {
    std::int64_t tick = 0;
    std::vector<std::uint8_t> bytes;

    bool operator==(const SmfEvent&) const = default;
};

/// Status and types of meta events (Standard MIDI Files 1.1, "Meta-Events").
struct SmfMeta {
    static constexpr std::uint8_t status = 0xFF;
    static constexpr std::uint8_t text = 0x01;
    static constexpr std::uint8_t trackName = 0x03;
    static constexpr std::uint8_t marker = 0x06;
    static constexpr std::uint8_t endOfTrack = 0x2F;
    static constexpr std::uint8_t tempo = 0x51;
    static constexpr std::uint8_t meter = 0x58;
    static constexpr std::uint8_t key = 0x59;
};

inline constexpr double microsecondsAMinute = 60e6;

struct SmfTrack {
    std::vector<SmfEvent>
        events; ///< sorted by tick (stable); End of Track is written at `length` and not held here
    std::int64_t length = 0; ///< tick of End of Track; raised to the last event when writing

    bool operator==(const SmfTrack&) const = default;
};

struct SmfFile {
    int format = 1;                ///< 0 or 1 (2 is read as well)
    int ticksPerQuarterNote = 960; ///< 1..32767; SMPTE divisions are refused with words
    std::vector<SmfTrack> tracks;

    bool operator==(const SmfFile&) const = default;
};

struct SmfWriteOptions {
    bool runningStatus = false; ///< as in the specification's example; off by default, for careless readers
};

/// Larger files are refused: a piece of music needs a few hundred kilobytes.
inline constexpr std::size_t maxSmfBytes = std::size_t{16} << 20;
/// Largest variable-length quantity, hence the largest step between two events of a track.
inline constexpr std::uint32_t maxVariableLength = 0x0FFFFFFF;

/// Variable-length quantity, 0..maxVariableLength: seven bits a byte, high ones first, bit 7 set on all but
/// the last.
void appendVariableLength(std::vector<std::uint8_t>& bytes, std::uint32_t value);

/// Preconditions: every event's bytes form one message (see SmfEvent), ticks are not negative. Events out of
/// order are sorted; a step longer than maxVariableLength is bridged by empty text events.
[[nodiscard]] std::vector<std::uint8_t> writeSmf(const SmfFile& file, SmfWriteOptions options = {});
/// Reads any well-formed file of at most maxSmfBytes; refuses others with the byte offset. Skips alien
/// chunks, honours longer headers, lets system exclusive and meta events cancel running status. An event
/// takes at least two bytes of input and about a hundred of memory, so memory stays within 50 times the
/// input's size. What was read, writeSmf writes so that it reads the same again.
[[nodiscard]] Result<SmfFile> readSmf(std::span<const std::uint8_t> bytes);

[[nodiscard]] Result<SmfFile> readSmfFile(const std::filesystem::path& path);
[[nodiscard]] Result<Done> writeSmfFile(const std::filesystem::path& path, const SmfFile& file,
                                        SmfWriteOptions options = {});

// Events
[[nodiscard]] SmfEvent smfText(std::int64_t tick, std::uint8_t type,
                               std::string_view text);          ///< SmfMeta::trackName, marker, ...
[[nodiscard]] SmfEvent smfTempo(std::int64_t tick, double bpm); ///< microseconds a quarter, rounded
[[nodiscard]] SmfEvent smfMeter(std::int64_t tick, int beats,
                                int unit); ///< clocks a beat, 8 thirty-seconds
/// A quarter's microseconds, 0..2^24 - 1, in a tempo event; nothing where it is none.
[[nodiscard]] std::optional<int> microsecondsOf(const SmfEvent& event);

} // namespace valveladder
