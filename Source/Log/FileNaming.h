#pragma once

#include "Base/Problem.h"

#include <filesystem>

namespace valveladder {

/// What `action` met with, by an errno.
[[nodiscard]] Problem fileFailure(const char* action, const std::filesystem::path& path, int error);

// One source a system: FileNaming<name>.cpp.

/// 0, or an errno; EEXIST where `to` is taken.
[[nodiscard]] int moveUnlessThere(const std::filesystem::path& from, const std::filesystem::path& to);

/// Returns when the name of a file in its folder would survive a power cut.
void syncFolder(const std::filesystem::path& file);

} // namespace valveladder
