#include "Log/SqlProblem.h"

#include "Log/SqlFields.h"

#include <sqlite3.h>

namespace valveladder {

namespace {

constexpr const char* startAnew =
    "Move the file to another folder, and a new log is begun; what can be read of the old one can be rescued "
    "with sqlite3's .recover and merged";

struct Words {
    int code; ///< SQLite's primary result code
    const char* what;
    const char* remedy;
};

constexpr Words wordsOfCode[] = {
    {SQLITE_BUSY, "the log is locked by another program", "Close the program that holds it, then try again"},
    {SQLITE_LOCKED, "the log is locked by another program",
     "Close the program that holds it, then try again"},
    {SQLITE_READONLY, "the log cannot be written: the file or its folder is read-only",
     "Allow writing to both"},
    {SQLITE_PERM, "the log cannot be used: access is denied", "Allow access to the file and its folder"},
    {SQLITE_FULL, "the log cannot be written: the disk is full", "Free some space, then try again"},
    {SQLITE_IOERR, "the log cannot be read or written: the disk reports an error",
     "Check that the disk has space and is connected, then try again"},
    {SQLITE_CORRUPT, "the log is damaged", startAnew},
    {SQLITE_NOTADB, "the file is not a log: it is damaged, or of another kind", startAnew},
    {SQLITE_CANTOPEN, "the log cannot be opened or made there",
     "Check that its folder exists and can be written"},
    {SQLITE_NOMEM, "there is not enough memory to use the log", "Close other programs, then try again"},
};

Problem ofCode(const SQLite::Exception& thrown, const std::string& where) {
    const int primary = thrown.getErrorCode() & 0xFF;
    for (const Words& words : wordsOfCode)
        if (words.code == primary)
            return {words.what, where, words.remedy};
    // Damage shows itself in many forms, such as a table that is no longer there.
    return {std::string("the log cannot be used: ") + thrown.what(), where, startAnew};
}

} // namespace

Problem damagedLog(const std::string& how, const std::filesystem::path& path) {
    return {"the log is damaged: " + how, pathText(path), startAnew};
}

Problem sqlProblem(const std::exception& thrown, const std::filesystem::path& path) {
    const std::string where = pathText(path);
    if (const auto* sql = dynamic_cast<const SQLite::Exception*>(&thrown))
        return ofCode(*sql, where);
    if (const auto* row = dynamic_cast<const UnreadableRow*>(&thrown))
        return damagedLog(std::string(row->what()) + " holds an unknown value", path);
    if (const auto* file = dynamic_cast<const std::filesystem::filesystem_error*>(&thrown))
        return {"the log's folder cannot be used: " + file->code().message(), where,
                "Check that the folder exists and can be written"};
    return {std::string("the log cannot be used: ") + thrown.what(), where, "Try again"};
}

} // namespace valveladder
