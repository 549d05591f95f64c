#pragma once

#include "Base/Problem.h"

#include <SQLiteCpp/SQLiteCpp.h>

namespace valveladder {

/// PRAGMA application_id of our files, "VLog" in ASCII.
inline constexpr int logApplicationId = 0x564C6F67;

/// PRAGMA user_version; 0 in an empty file.
[[nodiscard]] int schemaVersionOf(SQLite::Database& database);

[[nodiscard]] Problem anotherPrograms(const char* where);

/// Throws a Problem when the file is newer than us or another program's.
void refuseForeign(SQLite::Database& database, const char* where);

/// Brings the file, empty or of any older version, to LogStore::schemaVersion, in one transaction. Throws as
/// refuseForeign(), with the file untouched.
void migrate(SQLite::Database& database, const char* where);

} // namespace valveladder
