// Databases of other programs, whose marks happen to fit ours: nothing of them is changed.
#include "Log/LogStore.h"
#include "Log/TakeKeeper.h"

#include "Log/RandomTakes.h"
#include "Log/TempFolder.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <gtest/gtest.h>
#include <sqlite3.h>
#include <sys/stat.h>

#include <fstream>
#include <iterator>
#include <map>

namespace valveladder {

namespace {

namespace fs = std::filesystem;

/// Every file of a folder that belongs to the database, to the last byte.
std::map<std::string, std::string> filesOf(const fs::path& folder) {
    std::map<std::string, std::string> files;
    for (const auto& entry : fs::directory_iterator(folder)) {
        const std::string name = entry.path().filename().string();
        if (name.find("waiting") != std::string::npos)
            continue; // takes that wait beside it are ours
        std::ifstream stream(entry.path(), std::ios::binary);
        files[name] = {std::istreambuf_iterator<char>(stream), {}};
    }
    return files;
}

struct Foreign {
    const char* journal;  ///< its journal mode
    int userVersion;      ///< as a log of ours has it
    int applicationId;    ///< 0 = most programs set none
    bool walLeft = false; ///< its program ended without writing its write-ahead log back
};

void make(const fs::path& path, const Foreign& what) {
    SQLite::Database database(path.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    if (what.walLeft)
        sqlite3_db_config(database.getHandle(), SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, nullptr);
    database.exec(std::string("PRAGMA journal_mode = ") + what.journal);
    database.exec("PRAGMA user_version = " + std::to_string(what.userVersion));
    database.exec("PRAGMA application_id = " + std::to_string(what.applicationId));
    // Even names of ours.
    database.exec("CREATE TABLE meta (key TEXT PRIMARY KEY, value TEXT NOT NULL);"
                  "INSERT INTO meta VALUES ('machine', 'theirs');"
                  "CREATE TABLE open_takes (id TEXT); CREATE TABLE takes (id TEXT);");
}

template <typename Use>
void expectUntouched(const Foreign& what, Use&& use) {
    const TempFolder folder;
    const fs::path path = folder / "log.sqlite";
    make(path, what);
    const auto before = filesOf(folder.path());
    use(path);
    EXPECT_EQ(filesOf(folder.path()), before)
        << what.journal << ", user_version " << what.userVersion << ", application " << what.applicationId
        << (what.walLeft ? ", with its write-ahead log" : "");
}

template <typename Use>
void expectAllUntouched(Use&& use) {
    for (int version = 0; version <= LogStore::schemaVersion + 1; ++version)
        for (const int application : {0, 4711})
            for (const char* journal : {"delete", "persist", "wal"}) {
                expectUntouched({journal, version, application}, use);
                if (std::string_view(journal) == "wal")
                    expectUntouched({journal, version, application, true}, use);
            }
}

template <typename T>
void expectRefused(const Result<T>& result) {
    ASSERT_FALSE(result.ok());
    EXPECT_NE(result.problem().what.find("another program"), std::string::npos) << result.problem().text();
}

} // namespace

TEST(ForeignDatabase, OpenedForWritingIsRefusedAndLeftUntouched) {
    expectAllUntouched([](const fs::path& path) { expectRefused(LogStore::open(path)); });
}

TEST(ForeignDatabase, OpenedForReadingIsRefusedAndLeftUntouched) {
    expectAllUntouched([](const fs::path& path) { expectRefused(LogStore::openReadOnly(path)); });
}

TEST(ForeignDatabase, MergedFromIsRefusedAndLeftUntouched) {
    const TempFolder ours;
    const auto log = LogStore::open(ours / "log.sqlite");
    ASSERT_TRUE(log.ok());
    expectAllUntouched([&](const fs::path& path) { expectRefused(log.value()->merge(path)); });
}

TEST(ForeignDatabase, NamedAsThePluginsLogIsLeftUntouchedAndItsTakesWait) {
    expectAllUntouched([](const fs::path& path) {
        TakeKeeper keeper(path);
        keeper.finish(RandomTakes(1).take(10));
        EXPECT_EQ(keeper.store(), nullptr);
        EXPECT_EQ(keeper.waiting(), 1U);
        ASSERT_TRUE(keeper.trouble());
        EXPECT_NE(keeper.trouble()->text().find("another program"), std::string::npos);
    });
}

TEST(ForeignDatabase, PipesAndDevicesAreRefusedNotWaitedFor) {
    const TempFolder folder;
    const fs::path pipe = folder / "pipe";
    ASSERT_EQ(mkfifo(pipe.c_str(), 0600), 0);
    for (const fs::path& path : {pipe, fs::path("/dev/null"), folder.path()}) {
        const auto written = LogStore::open(path);
        ASSERT_FALSE(written.ok());
        EXPECT_NE(written.problem().what.find("not a file"), std::string::npos);
        EXPECT_FALSE(LogStore::openReadOnly(path).ok());
    }
}

TEST(ForeignDatabase, CheckFindsWhatALogLacks) {
    for (const char* damage :
         {"DROP TABLE segments", "DROP TABLE devices", "DROP TABLE plan_rules", "DROP TABLE take_times",
          "DROP INDEX takes_of_plan", "ALTER TABLE notes DROP COLUMN cents",
          "UPDATE changes SET valves_to = '1-9' WHERE position = 3", "UPDATE takes SET state = 'lost'"}) {
        const TempFolder folder;
        const fs::path path = folder / "log.sqlite";
        {
            const auto log = LogStore::open(path);
            ASSERT_TRUE(log.ok());
            ASSERT_TRUE(log.value()->finishTake(RandomTakes(1).take(30)).ok());
            EXPECT_TRUE(log.value()->check().ok()) << log.value()->check().problem().text();
        }
        SQLite::Database(path.string(), SQLite::OPEN_READWRITE).exec(damage);
        const auto log = LogStore::openReadOnly(path);
        ASSERT_TRUE(log.ok()) << log.problem().text();
        const auto sound = log.value()->check();
        ASSERT_FALSE(sound.ok()) << damage;
        EXPECT_NE(sound.problem().what.find("damaged"), std::string::npos) << sound.problem().text();
    }
}

} // namespace valveladder
