#pragma once

#include <filesystem>
#include <string>
#include <string_view>

namespace valveladder {

/// A path from UTF-8 text, on every system. Never make one of a std::string itself: on Windows that asks the
/// process's locale.
[[nodiscard]] std::filesystem::path pathOf(std::string_view text);

/// A path as UTF-8 text, on every system.
[[nodiscard]] std::string pathText(const std::filesystem::path& path);

} // namespace valveladder
