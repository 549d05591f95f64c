#include "Log/LogFile.h"
#include "Log/LogStoreImpl.h"

#include <sqlite3.h>

namespace valveladder {

namespace {

/// SQLite opens a write-protected file for reading when asked to write; say so now, not at the first take.
void refuseReadOnly(SQLite::Database& database) {
    if (sqlite3_db_readonly(database.getHandle(), "main") != 0)
        throw SQLite::Exception("read-only", SQLITE_READONLY);
}

/// Whether the last to close a database writes back what lies beside it.
void writeBackOnClose(SQLite::Database& database, bool yes) {
    sqlite3_db_config(database.getHandle(), SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, yes ? 0 : 1, nullptr);
}

} // namespace

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
        refuseOtherFile(path);
        makeLog(path);
        SQLite::Database database(pathText(path), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE, busy);
        writeBackOnClose(database, false); // until it is known to be ours
        refuseForeign(database, pathText(path).c_str());
        writeBackOnClose(database, true);
        setCommonPragmas(database);
        refuseReadOnly(database);
        if (schemaVersionOf(database) != schemaVersion)
            migrate(database, pathText(path).c_str());
        useWriteAheadLog(database, busy);
        return std::unique_ptr<LogStore>(new LogStore(std::make_unique<Impl>(path, std::move(database))));
    });
}

Result<std::unique_ptr<LogStore>> LogStore::openReadOnly(const std::filesystem::path& path, int busy) {
    return guarded(path, [&] {
        SQLite::Database database = openForReading(path, busy).database;
        setCommonPragmas(database);
        database.exec("PRAGMA query_only = ON");
        return std::unique_ptr<LogStore>(new LogStore(std::make_unique<Impl>(path, std::move(database))));
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
