// Whether a log is sound: what SQLite says of the file, what the schema asks for, and what reading finds.
#include "Log/LogStoreImpl.h"

#include <sqlite3.h>

#include <algorithm>
#include <set>

namespace valveladder {

namespace {

/// A table or index, and its columns.
using Layout = std::map<std::string, std::set<std::string>>;

Layout layoutOf(SQLite::Database& database) {
    Layout layout;
    SQLite::Statement names(database, "SELECT m.type || ' ' || m.name, c.name FROM sqlite_master AS m "
                                      "LEFT JOIN pragma_table_info(m.name) AS c "
                                      "WHERE m.name NOT LIKE 'sqlite_%'");
    while (names.executeStep()) {
        auto& columns = layout[names.getColumn(0).getString()];
        if (!names.getColumn(1).isNull())
            columns.insert(names.getColumn(1).getString());
    }
    return layout;
}

/// Throws where the file lacks what a new log has. More than that is no harm.
void refuseIncomplete(SQLite::Database& database, const std::filesystem::path& path) {
    SQLite::Database whole(":memory:", SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    migrate(whole, pathText(path).c_str());
    const Layout here = layoutOf(database);
    for (const auto& [name, columns] : layoutOf(whole)) {
        const auto found = here.find(name);
        if (found == here.end())
            throw damagedLog("its " + name + " is missing", path);
        for (const std::string& column : columns)
            if (!found->second.contains(column))
                throw damagedLog("its " + name + " lacks " + column, path);
    }
}

void refuseBroken(SQLite::Database& database) {
    SQLite::Statement integrity(database, "PRAGMA integrity_check(1)");
    if (!integrity.executeStep() || integrity.getColumn(0).getString() != "ok")
        throw SQLite::Exception("integrity", SQLITE_CORRUPT);
    SQLite::Statement foreign(database, "PRAGMA foreign_key_check");
    if (foreign.executeStep())
        throw SQLite::Exception("foreign keys", SQLITE_CORRUPT);
}

} // namespace

Result<Done> LogStore::check() const {
    auto sound = guarded(impl->path, [&] {
        refuseBroken(impl->database);
        refuseIncomplete(impl->database, impl->path);
        (void)impl->openTakes();
        return Done{};
    });
    if (!sound)
        return sound;
    const auto read = forEachTake({}, [](const TakeRecord&) { return true; });
    return read ? Result<Done>(Done{}) : read.problem();
}

} // namespace valveladder
