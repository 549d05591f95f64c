#pragma once

#include <cstddef>
#include <filesystem>
#include <sndfile.h>

namespace valveladder {

/// Sounds are read and written in pieces of so many samples at most.
inline constexpr std::size_t pieceFrames = 4096;

/// As sf_open(), for every path. One source a system: OpenSound<name>.cpp.
[[nodiscard]] SNDFILE* openSound(const std::filesystem::path& path, int mode, SF_INFO* info);

} // namespace valveladder
