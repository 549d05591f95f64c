#pragma once

#include "Base/Problem.h"

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <span>
#include <vector>

namespace valveladder {

/// The whole of a file, at most `maxBytes` of it: a larger one is refused before it is read. The problem
/// names the path.
[[nodiscard]] Result<std::vector<std::uint8_t>> readFileBytes(const std::filesystem::path& path,
                                                              std::size_t maxBytes);

/// Writes beside the target and renames, so that a full disk or a lost connection leaves an older file of
/// that name whole. The problem names the path.
[[nodiscard]] Result<Done> writeFileBytes(const std::filesystem::path& path,
                                          std::span<const std::uint8_t> bytes);

} // namespace valveladder
