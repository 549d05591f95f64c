#pragma once

#include <filesystem>

namespace valveladder {

/// Where programs keep what is the user's own. One source a system: DataFolder<name>.cpp.
[[nodiscard]] std::filesystem::path dataFolder();

} // namespace valveladder
