#pragma once

#include "Base/Problem.h"

#include <SQLiteCpp/SQLiteCpp.h>

#include <filesystem>
#include <string>

namespace valveladder {

/// Puts down in the log which version of the program writes to it. Throws as SQLite does; call inside a
/// transaction.
void noteProgram(SQLite::Database& log);

/// The version of Valve Ladder that wrote to a log last; empty: one from before 0.2, which did not say so.
/// Reads only. A Problem where the log cannot be read.
[[nodiscard]] Result<std::string> programOf(const std::filesystem::path& log);

} // namespace valveladder
