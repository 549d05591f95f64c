#pragma once

#include "Base/Path.h"
#include "Base/Problem.h"

#include <SQLiteCpp/SQLiteCpp.h>

#include <exception>
#include <filesystem>
#include <string>

namespace valveladder {

/// The words for what SQLite (or the file system, or the memory) threw while the log at `path` was used.
[[nodiscard]] Problem sqlProblem(const std::exception& thrown, const std::filesystem::path& path);

/// "the log is damaged: ...", with what to do.
[[nodiscard]] Problem damagedLog(const std::string& how, const std::filesystem::path& path);

/// Runs `action` and turns whatever it throws into a Problem. An `action` may throw a Problem as well.
template <typename Action>
auto guarded(const std::filesystem::path& path, Action&& action) -> Result<decltype(action())> {
    try {
        return action();
    } catch (const Problem& problem) {
        return problem;
    } catch (const std::exception& thrown) {
        return sqlProblem(thrown, path);
    }
}

} // namespace valveladder
