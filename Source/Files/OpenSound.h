#pragma once

#include <filesystem>
#include <sndfile.h>

namespace valveladder {

/// As sf_open(), for every path. One source a system: OpenSound<name>.cpp.
[[nodiscard]] SNDFILE* openSound(const std::filesystem::path& path, int mode, SF_INFO* info);

} // namespace valveladder
