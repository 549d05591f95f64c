#pragma once

#include "Base/Problem.h"

#include <cstdint>
#include <filesystem>
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

/// Variable-length quantity, 0..0x0FFFFFFF.
void appendVariableLength(std::vector<std::uint8_t>& bytes, std::uint32_t value);

[[nodiscard]] std::vector<std::uint8_t> writeSmf(const SmfFile& file, SmfWriteOptions options = {});
/// Reads any well-formed file; refuses others with the byte offset. Skips alien chunks; honours longer
/// headers. Memory stays within a small multiple of the input's size.
[[nodiscard]] Result<SmfFile> readSmf(std::span<const std::uint8_t> bytes);

[[nodiscard]] Result<SmfFile> readSmfFile(const std::filesystem::path& path);
[[nodiscard]] Result<Done> writeSmfFile(const std::filesystem::path& path, const SmfFile& file,
                                        SmfWriteOptions options = {});

// Events
[[nodiscard]] SmfEvent smfText(std::int64_t tick, std::uint8_t type,
                               std::string_view text);          ///< 03 name, 06 marker, ...
[[nodiscard]] SmfEvent smfTempo(std::int64_t tick, double bpm); ///< FF 51, microseconds a quarter, rounded
[[nodiscard]] SmfEvent smfMeter(std::int64_t tick, int beats,
                                int unit); ///< FF 58, clocks a beat, 8 thirty-seconds

} // namespace valveladder
