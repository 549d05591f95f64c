#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <filesystem>
#include <string>

namespace valveladder {

// The file of a log, before and while SQLite opens it. All of these throw: a Problem with words, or what
// SQLite throws.

/// Throws a Problem when what lies at `path` is no file (a folder, a named pipe: SQLite would wait for it) or
/// the database of another program. Reads without a lock and without the files that SQLite lays beside a
/// database, so that a foreign one stays as it is to the last byte.
void refuseOtherFile(const std::filesystem::path& path);

/// Makes an empty log at `path` all at once: its program may die at any moment, or others may do the same,
/// and there is either no file or a whole log. Does nothing where something lies there, or where it cannot:
/// SQLite, asked to make the file in place, says why.
void makeLog(const std::filesystem::path& path);

struct LogForReading {
    SQLite::Database database;
    int schemaInFile = 0; ///< of the log as it lies in its file, however it is read; 0 of an empty one
};

/// The log for reading alone, brought to the newest schema in memory where it is older. An empty file, as a
/// crash of an older version may have left it, counts as an empty log.
[[nodiscard]] LogForReading openForReading(const std::filesystem::path& path, int busyMs);

/// Writes go to a log beside the database from now on (WAL), so that readers never wait. A file system
/// without shared memory stays with its rollback journal.
void useWriteAheadLog(SQLite::Database& database, int busyMs);

void setCommonPragmas(SQLite::Database& database);

} // namespace valveladder
