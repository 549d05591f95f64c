#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>

namespace valveladder {

/// Each reads hostile bytes and says which promise the reader broke, nothing when all held. Crashes and hangs
/// show themselves.
using Complaint = std::optional<std::string>;

/// Refusals say where and what to do; what was read fits in the memory promised, and written and read again
/// is the same.
[[nodiscard]] Complaint fuzzSmf(std::span<const std::uint8_t> bytes);

/// MusicXML, plain or compressed: refusals say where and what to do, every part that is offered is read or
/// refused likewise, times are in order and notes within reach, a document written again reads the same.
[[nodiscard]] Complaint fuzzMusicXml(std::span<const std::uint8_t> bytes);

/// A MIDI file read as a piece.
[[nodiscard]] Complaint fuzzPartSmf(std::span<const std::uint8_t> bytes);

/// A drill, with its tempo plan: refusals say where and what to do; what was read and is in range is laid
/// out, and written and read again is the same.
[[nodiscard]] Complaint fuzzDrill(std::span<const std::uint8_t> bytes);

/// Refusals say where and what to do; what was read is no more than the header promised, and is heard
/// without a note outside the sound.
[[nodiscard]] Complaint fuzzSound(std::span<const std::uint8_t> bytes);

/// Refusals say where and what to do; what was read is sorted and within its ranges.
[[nodiscard]] Complaint fuzzAnnotations(std::span<const std::uint8_t> bytes);

} // namespace valveladder
