#include "Log/LogStoreImpl.h"

#include <SQLiteCpp/Backup.h>
#include <sqlite3.h>

#include <chrono>
#include <thread>

namespace valveladder {

namespace {

/// Setting WAL for the first time does not wait for locks by itself: https://www.sqlite.org/wal.html,
/// "Activating and configuring WAL mode". A file system without shared memory stays with its rollback
/// journal.
void useWriteAheadLog(SQLite::Database& database, int busy) {
    constexpr std::chrono::milliseconds pause{20};
    for (int waited = 0;; waited += static_cast<int>(pause.count())) {
        try {
            database.exec("PRAGMA journal_mode = WAL");
            return;
        } catch (const SQLite::Exception& thrown) {
            if ((thrown.getErrorCode() & 0xFF) != SQLITE_BUSY || waited >= busy)
                throw;
        }
        std::this_thread::sleep_for(pause);
    }
}

void setCommonPragmas(SQLite::Database& database) {
    database.exec("PRAGMA foreign_keys = ON");
    database.exec("PRAGMA trusted_schema = OFF");
    database.exec("PRAGMA cell_size_check = ON");
    database.exec("PRAGMA synchronous = FULL"); // a finished take survives a power cut
}

/// SQLite opens a write-protected file for reading when asked to write; say so now, not at the first take.
void refuseReadOnly(SQLite::Database& database) {
    if (sqlite3_db_readonly(database.getHandle(), "main") != 0)
        throw SQLite::Exception("read-only", SQLITE_READONLY);
}

std::string immutableUri(const std::filesystem::path& path) {
    constexpr const char* digits = "0123456789ABCDEF";
    std::string uri = "file:";
    for (const char c : pathText(path)) {
        const auto byte = static_cast<unsigned char>(c);
        if (c == '%' || c == '?' || c == '#') {
            uri += '%';
            uri += digits[byte >> 4];
            uri += digits[byte & 0x0F];
        } else {
            uri += c;
        }
    }
    return uri + "?immutable=1";
}

/// A log in a folder that cannot be written has no place for its shared memory; when no other program has it
/// open (no -wal beside it) it can be read as it lies.
SQLite::Database openForReading(const std::filesystem::path& path) {
    try {
        SQLite::Database database(pathText(path), SQLite::OPEN_READONLY, LogStore::busyMs);
        (void)schemaVersionOf(database);
        return database;
    } catch (const SQLite::Exception& thrown) {
        std::filesystem::path wal = path;
        wal += "-wal";
        std::error_code ignored;
        const int code = thrown.getErrorCode() & 0xFF;
        const bool noPlace = code == SQLITE_CANTOPEN || code == SQLITE_READONLY;
        if (!noPlace || !std::filesystem::exists(path, ignored) || std::filesystem::exists(wal, ignored))
            throw;
        return {immutableUri(path), SQLite::OPEN_READONLY | SQLite::OPEN_URI, LogStore::busyMs};
    }
}

/// An older log is read through a migrated copy in memory.
SQLite::Database migratedCopy(SQLite::Database& original, const std::string& where) {
    SQLite::Database copy(":memory:", SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    SQLite::Backup backup(copy, original);
    backup.executeStep();
    migrate(copy, where.c_str());
    return copy;
}

} // namespace

std::string joined(const std::vector<std::string>& names) {
    std::string text;
    for (const std::string& name : names)
        text += (text.empty() ? "" : ", ") + name;
    return text;
}

LogDatabase::LogDatabase(std::filesystem::path file, SQLite::Database opened)
    : path(std::move(file)), database(std::move(opened)) {
    machine = database.execAndGet("SELECT value FROM meta WHERE key = 'machine'").getString();
}

LogDatabase::Use::Use(LogDatabase& owner, const std::string& sql)
    : statement(owner.statements.try_emplace(sql, owner.database, sql).first->second) {}

bool LogDatabase::moved() {
    int yes = 0;
    const int code = sqlite3_file_control(database.getHandle(), "main", SQLITE_FCNTL_HAS_MOVED, &yes);
    return code == SQLITE_OK && yes != 0;
}

void LogDatabase::refuseMoved() {
    if (moved())
        throw Problem{"the log's file was moved or deleted while it was open", pathText(path),
                      "Put it back, or go on with the new one"};
}

void LogDatabase::refuseOtherSchema() {
    if (schemaVersionOf(database) != LogStore::schemaVersion)
        throw Problem{"the log was changed by a newer version of Valve Ladder while it was open",
                      pathText(path), "Update this one"};
}

LogStore::LogStore(std::unique_ptr<Impl> content) : impl(std::move(content)) {}
LogStore::~LogStore() = default;

Result<std::unique_ptr<LogStore>> LogStore::open(const std::filesystem::path& path, int busy) {
    return guarded(path, [&] {
        if (path.has_parent_path())
            std::filesystem::create_directories(path.parent_path());
        SQLite::Database database(pathText(path), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE, busy);
        setCommonPragmas(database);
        refuseReadOnly(database);
        // Before anything is written: a newer or foreign file stays untouched.
        if (schemaVersionOf(database) != schemaVersion)
            migrate(database, pathText(path).c_str());
        useWriteAheadLog(database, busy);
        return std::unique_ptr<LogStore>(new LogStore(std::make_unique<Impl>(path, std::move(database))));
    });
}

Result<std::unique_ptr<LogStore>> LogStore::openReadOnly(const std::filesystem::path& path) {
    return guarded(path, [&] {
        SQLite::Database database = openForReading(path);
        const std::string where = pathText(path);
        refuseForeign(database, where.c_str());
        const int version = schemaVersionOf(database);
        if (version == 0)
            throw Problem{"the file holds no log", where, "Name another file"};
        if (version < schemaVersion)
            database = migratedCopy(database, where);
        setCommonPragmas(database);
        database.exec("PRAGMA query_only = ON");
        return std::unique_ptr<LogStore>(new LogStore(std::make_unique<Impl>(path, std::move(database))));
    });
}

Result<Done> LogStore::check() const {
    return guarded(impl->path, [&] {
        SQLite::Statement integrity(impl->database, "PRAGMA integrity_check(1)");
        if (!integrity.executeStep() || integrity.getColumn(0).getString() != "ok")
            throw SQLite::Exception("integrity", SQLITE_CORRUPT);
        SQLite::Statement foreign(impl->database, "PRAGMA foreign_key_check");
        if (foreign.executeStep())
            throw SQLite::Exception("foreign keys", SQLITE_CORRUPT);
        return Done{};
    });
}

bool LogStore::moved() const {
    return impl->moved();
}
void LogStore::setBusyMs(int ms) {
    sqlite3_busy_timeout(impl->database.getHandle(), ms);
}
const std::string& LogStore::machine() const {
    return impl->machine;
}
const std::filesystem::path& LogStore::path() const {
    return impl->path;
}

} // namespace valveladder
