#pragma once

#include "Base/Problem.h"

#include <cstdint>
#include <span>
#include <string>
#include <vector>

namespace valveladder {

/// Largest piece of MusicXML that is unpacked, and most files in an archive: an orchestral score stays far
/// below both, a zip bomb does not.
inline constexpr std::size_t maxMusicXmlBytes = std::size_t{64} << 20;
inline constexpr std::int64_t maxArchiveFiles = 256;

/// A compressed MusicXML file (.mxl): a zip archive whose META-INF/container.xml names the score.
struct MxlArchive {
    struct Entry {
        std::string name;
        std::vector<std::uint8_t> bytes;
    };
    std::vector<Entry> entries; ///< in the archive's order
    std::size_t score = 0;      ///< which entry is the score
};

/// True when the bytes begin as a zip archive does.
[[nodiscard]] bool looksZipped(std::span<const std::uint8_t> bytes);

/// Unpacks in pieces and stops at maxMusicXmlBytes in all, whatever sizes the archive claims.
[[nodiscard]] Result<MxlArchive> readMxl(std::span<const std::uint8_t> bytes);
/// A new archive of one score.
[[nodiscard]] MxlArchive mxlOf(std::vector<std::uint8_t> score);
[[nodiscard]] Result<std::vector<std::uint8_t>> writeMxl(const MxlArchive& archive);

} // namespace valveladder
