#pragma once

#include <nlohmann/json.hpp>

#include <filesystem>
#include <optional>
#include <string>

namespace valveladder {

/// Why the independent readers cannot be used on this machine, in words for a skipped test; nothing when they
/// can.
[[nodiscard]] std::optional<std::string> outsideReadersMissing();

/// What Tests/Outside/<script> prints as JSON about a file. A script that fails is an error of the test.
[[nodiscard]] nlohmann::json runNodeScript(const std::string& script, const std::filesystem::path& file);

} // namespace valveladder
