#pragma once

#include <cstdio>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

// What each system does in its own way: System<name>.cpp, one a system.

namespace valveladder {

/// A variable of the environment as UTF-8; nothing where it is not set.
[[nodiscard]] std::optional<std::string> environment(const char* variable);

/// Sets a variable of this process's environment, or takes it out, for what is opened from now on.
void setEnvironment(const char* variable, const std::optional<std::string>& value);

/// A new file to write bytes to; nullptr where it cannot be made, or is there.
[[nodiscard]] std::FILE* openNew(const std::filesystem::path& path);

/// What the program was called with, as UTF-8, without its own name. Standard output and error take UTF-8
/// from now on, and pass on bytes as they are.
[[nodiscard]] std::vector<std::string> programArguments(int argc, char** argv);

} // namespace valveladder
