#include "Log/LogFile.h"

#include "Base/Path.h"
#include "Base/Uuid.h"
#include "Log/LockedFile.h"
#include "Log/LogStore.h"
#include "Log/Schema.h"
#include "Log/SqlProblem.h"

#include <SQLiteCpp/Backup.h>
#include <sqlite3.h>

#include <chrono>
#include <memory>
#include <string_view>
#include <thread>
#include <utility>

namespace valveladder {

namespace {

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

std::filesystem::path besides(const std::filesystem::path& path, const char* suffix) {
    std::filesystem::path beside = path;
    beside += suffix;
    return beside;
}

bool isEmptyFile(const std::filesystem::path& path) {
    std::error_code error;
    return std::filesystem::file_size(path, error) == 0 && !error;
}

/// The file alone as it lies on the disk, whatever others are writing beside it.
SQLite::Database openAsItLies(const std::filesystem::path& path, int busyMs) {
    return {immutableUri(path), SQLite::OPEN_READONLY | SQLite::OPEN_URI, busyMs};
}

SQLite::Database emptyLogInMemory(const std::filesystem::path& path) {
    SQLite::Database memory(":memory:", SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    migrate(memory, pathText(path).c_str());
    return memory;
}

std::string emptyLog(const std::filesystem::path& path) {
    const SQLite::Database memory = emptyLogInMemory(path);
    sqlite3_int64 size = 0;
    const std::unique_ptr<unsigned char, decltype(&sqlite3_free)> bytes(
        sqlite3_serialize(memory.getHandle(), "main", &size, 0), &sqlite3_free);
    if (bytes == nullptr)
        throw SQLite::Exception("serialize", SQLITE_NOMEM);
    return {reinterpret_cast<const char*>(bytes.get()), static_cast<std::size_t>(size)};
}

std::string makingStem(const std::filesystem::path& path) {
    return pathText(path.filename()) + ".making-";
}

/// Half-made logs whose programs are gone.
void removeHalfMade(const std::filesystem::path& path) {
    std::error_code error;
    std::filesystem::directory_iterator entry(path.parent_path(), error);
    for (; !error && entry != std::filesystem::directory_iterator(); entry.increment(error))
        if (pathText(entry->path().filename()).starts_with(makingStem(path)))
            if (auto left = LockedFile::takeOver(entry->path()))
                left->remove();
}

/// A program that died while it wrote without a write-ahead log left its rollback journal. Only one that may
/// write can take back what was not finished.
void rollBack(const std::filesystem::path& path, int busyMs) {
    SQLite::Database healed(pathText(path), SQLite::OPEN_READWRITE, busyMs);
    (void)schemaVersionOf(healed);
}

bool needsRollBack(const SQLite::Exception& thrown) {
    return thrown.getExtendedErrorCode() == SQLITE_READONLY_ROLLBACK;
}

/// A log in a folder that cannot be written has no place for its shared memory; when no other program has it
/// open (no -wal beside it) it can be read as it lies.
SQLite::Database openInPlace(const std::filesystem::path& path, int busyMs) {
    try {
        SQLite::Database database(pathText(path), SQLite::OPEN_READONLY, busyMs);
        (void)schemaVersionOf(database);
        return database;
    } catch (const SQLite::Exception& thrown) {
        std::error_code ignored;
        const int code = thrown.getErrorCode() & 0xFF;
        const bool noPlace = code == SQLITE_CANTOPEN || code == SQLITE_READONLY;
        if (needsRollBack(thrown) || !noPlace || !std::filesystem::exists(path, ignored) ||
            std::filesystem::exists(besides(path, "-wal"), ignored))
            throw;
        return openAsItLies(path, busyMs);
    }
}

SQLite::Database openWhole(const std::filesystem::path& path, int busyMs) {
    try {
        return openInPlace(path, busyMs);
    } catch (const SQLite::Exception& thrown) {
        if (!needsRollBack(thrown))
            throw;
    }
    rollBack(path, busyMs);
    return openInPlace(path, busyMs);
}

} // namespace

void refuseOtherFile(const std::filesystem::path& path) {
    std::error_code error;
    if (!std::filesystem::exists(path, error))
        return;
    if (!std::filesystem::is_regular_file(path, error))
        throw Problem{"the log cannot be opened: this is not a file", pathText(path),
                      "Move what lies there to another place, and a log is begun"};
    if (isEmptyFile(path))
        return;
    try {
        SQLite::Database glance = openAsItLies(path, 0);
        refuseForeign(glance, pathText(path).c_str());
        // A log bears its mark from its first page on. One that has none, and waits beside it, is not ours.
        const bool unmarked = glance.execAndGet("PRAGMA application_id").getInt() != logApplicationId;
        if (unmarked && std::filesystem::exists(besides(path, "-wal"), error))
            throw anotherPrograms(pathText(path).c_str());
    } catch (const SQLite::Exception&) {
        return; // no database, damaged, or not to be read: opening it says which
    }
}

void makeLog(const std::filesystem::path& path) {
    std::error_code error;
    if (std::filesystem::exists(std::filesystem::symlink_status(path, error)))
        return;
    // What is left of a log that was moved away would be taken for the new one's. SQLite knows that an empty
    // file has no past, and removes it.
    if (std::filesystem::exists(besides(path, "-wal"), error) ||
        std::filesystem::exists(besides(path, "-journal"), error))
        return;
    removeHalfMade(path);
    const std::string bytes = emptyLog(path);
    std::filesystem::path making = path.parent_path() / pathOf(makingStem(path) + newUuid().substr(0, 8));
    auto file = LockedFile::create(making);
    if (!file)
        return;
    if (!file.value().append(bytes)) {
        file.value().remove();
        return;
    }
    (void)file.value().publish(path);
}

LogForReading openForReading(const std::filesystem::path& path, int busyMs) {
    refuseOtherFile(path);
    if (isEmptyFile(path))
        return {emptyLogInMemory(path), 0};
    SQLite::Database database = openWhole(path, busyMs);
    const std::string where = pathText(path);
    refuseForeign(database, where.c_str());
    const int schema = schemaVersionOf(database);
    if (schema == LogStore::schemaVersion)
        return {std::move(database), schema};
    SQLite::Database copy(":memory:", SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    SQLite::Backup backup(copy, database);
    backup.executeStep();
    migrate(copy, where.c_str());
    return {std::move(copy), schema};
}

/// Setting WAL for the first time does not wait for locks by itself: https://www.sqlite.org/wal.html,
/// "Activating and configuring WAL mode".
void useWriteAheadLog(SQLite::Database& database, int busyMs) {
    constexpr std::chrono::milliseconds pause{20};
    for (int waited = 0;; waited += static_cast<int>(pause.count())) {
        try {
            database.exec("PRAGMA journal_mode = WAL");
            return;
        } catch (const SQLite::Exception& thrown) {
            if ((thrown.getErrorCode() & 0xFF) != SQLITE_BUSY || waited >= busyMs)
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

} // namespace valveladder
