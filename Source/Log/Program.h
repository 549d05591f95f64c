#pragma once

#include "Base/Problem.h"

#include <SQLiteCpp/SQLiteCpp.h>

#include <filesystem>
#include <string>

namespace valveladder {

/// Puts down in the log which version of the program writes to it. Throws as SQLite does; call inside a
/// transaction.
void noteProgram(SQLite::Database& log);

/// What wrote to a log last.
struct Writer {
    std::string program; ///< the version of Valve Ladder; empty: one from before 0.2, which did not say so
    int schema = 0;      ///< of the file as it lies there
};

/// Reads only. A Problem where the log cannot be read.
[[nodiscard]] Result<Writer> lastWriterOf(const std::filesystem::path& log);

} // namespace valveladder
