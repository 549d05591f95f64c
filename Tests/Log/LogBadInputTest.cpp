#include "Log/LogStore.h"

#include "Log/FaultyDisk.h"
#include "Log/RandomTakes.h"
#include "Log/TempFolder.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <gtest/gtest.h>

#include <cerrno>
#include <chrono>
#include <fstream>
#include <iterator>

namespace valveladder {

namespace {

std::string bytesOf(const std::filesystem::path& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

void setBytes(const std::filesystem::path& path, const std::string& bytes) {
    std::ofstream(path, std::ios::binary | std::ios::trunc) << bytes;
}

/// A log that holds `count` takes, and their ids.
std::vector<TakeRecord> filledLog(const std::filesystem::path& path, int count) {
    auto log = LogStore::open(path);
    EXPECT_TRUE(log.ok()) << log.problem().text();
    std::vector<TakeRecord> takes;
    for (int i = 0; i < count; ++i) {
        takes.push_back(RandomTakes(static_cast<std::uint64_t>(i)).take(30));
        EXPECT_TRUE(log.value()->finishTake(takes.back()).ok());
    }
    return takes;
}

template <typename T>
void expectTold(const Result<T>& result, const std::filesystem::path& path, const std::string& word) {
    ASSERT_FALSE(result.ok());
    const Problem& problem = result.problem();
    EXPECT_NE(problem.what.find(word), std::string::npos) << problem.text();
    EXPECT_EQ(problem.where, path.string());
    EXPECT_FALSE(problem.remedy.empty());
}

} // namespace

TEST(LogBadInput, NewerSchemaIsRefusedAndLeftUntouched) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    filledLog(path, 1);
    {
        SQLite::Database database(path.string(), SQLite::OPEN_READWRITE);
        database.exec("PRAGMA user_version = " + std::to_string(LogStore::schemaVersion + 1));
        database.exec("PRAGMA wal_checkpoint(TRUNCATE)");
    }
    const std::string before = bytesOf(path);
    expectTold(LogStore::open(path), path, "newer version");
    expectTold(LogStore::openReadOnly(path), path, "newer version");
    EXPECT_EQ(bytesOf(path), before);
}

TEST(LogBadInput, DatabaseOfAnotherProgramIsRefusedAndLeftUntouched) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    SQLite::Database(path.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE).exec("CREATE TABLE a (b)");
    const std::string before = bytesOf(path);
    expectTold(LogStore::open(path), path, "another program");
    EXPECT_EQ(bytesOf(path), before);
}

TEST(LogBadInput, FileOfAnotherKindIsRefusedAndLeftUntouched) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    const std::string text(5000, 'x');
    setBytes(path, text);
    expectTold(LogStore::open(path), path, "not a log");
    EXPECT_EQ(bytesOf(path), text);
}

TEST(LogBadInput, FolderInPlaceOfTheFileIsToldOf) {
    const TempFolder folder;
    expectTold(LogStore::open(folder.path()), folder.path(), "cannot be opened");
}

TEST(LogBadInput, FileInPlaceOfTheFolderIsToldOf) {
    const TempFolder folder;
    setBytes(folder / "file", "");
    const auto path = (folder / "file") / "log.sqlite";
    expectTold(LogStore::open(path), path, "folder cannot be used");
}

TEST(LogBadInput, ReadOnlyOpeningNeverMakesAFile) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    expectTold(LogStore::openReadOnly(path), path, "cannot be opened");
    EXPECT_FALSE(std::filesystem::exists(path));
}

TEST(LogBadInput, LogOpenedForReadingReadsAndRefusesToWrite) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    const TakeRecord take = filledLog(path, 1).front();
    auto log = LogStore::openReadOnly(path);
    ASSERT_TRUE(log.ok()) << log.problem().text();
    EXPECT_EQ(log.value()->take(take.header.id).value(), take);
    expectTold(log.value()->finishTake(take), path, "read-only");
    expectTold(log.value()->setRoundTripMs("Interface", 1.0), path, "read-only");
}

TEST(LogBadInput, WriteProtectedDiskIsToldOfAndKeepsWhatIsThere) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    const auto takes = filledLog(path, 2);
    auto log = LogStore::open(path);
    ASSERT_TRUE(log.ok()) << log.problem().text();
    FaultyDisk disk;
    disk.failFrom(1, EROFS);
    expectTold(log.value()->finishTake(RandomTakes(9).take(30)), path, "disk");
    disk.heal();
    EXPECT_EQ(log.value()->takes({}).value().size(), takes.size());
}

TEST(LogBadInput, LockedLogIsToldOfAfterTheBusyTime) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    filledLog(path, 1);
    auto log = LogStore::open(path, 50);
    ASSERT_TRUE(log.ok()) << log.problem().text();
    SQLite::Database other(path.string(), SQLite::OPEN_READWRITE);
    other.exec("BEGIN EXCLUSIVE");
    expectTold(log.value()->finishTake(RandomTakes(9).take(3)), path, "locked");
    EXPECT_EQ(log.value()->takes({}).value().size(), 1U); // reading goes on
    other.exec("ROLLBACK");
    EXPECT_TRUE(log.value()->finishTake(RandomTakes(9).take(3)).ok());
}

TEST(LogBadInput, DiskFullAtAnyWriteLosesNothingThatWasFinished) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    const auto takes = filledLog(path, 3);
    const TakeRecord another = RandomTakes(77).take(200);
    int told = 0;
    bool landed = false;
    for (int nth = 1; !landed; ++nth) {
        ASSERT_LT(nth, 1000);
        auto log = LogStore::open(path);
        ASSERT_TRUE(log.ok()) << "write " << nth << ": " << log.problem().text();
        FaultyDisk disk;
        disk.failFrom(nth, ENOSPC);
        const auto done = log.value()->finishTake(another);
        landed = done.ok();
        if (!landed) {
            expectTold(done, path, "disk is full");
            ++told;
        }
        disk.heal();
        ASSERT_TRUE(log.value()->check().ok()) << "write " << nth;
        ASSERT_EQ(log.value()->takes({}).value().size(), takes.size() + (landed ? 1 : 0)) << "write " << nth;
        for (const TakeRecord& take : takes)
            ASSERT_EQ(log.value()->take(take.header.id).value(), take) << "write " << nth;
    }
    EXPECT_GT(told, 5);
}

TEST(LogBadInput, DiskErrorsWhileTheLogIsMadeLeaveNoHalfLog) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    bool made = false;
    for (int nth = 1; !made; ++nth) {
        ASSERT_LT(nth, 1000);
        FaultyDisk disk;
        disk.failFrom(nth, EIO);
        made = LogStore::open(path).ok();
        disk.heal();
        const auto log = LogStore::open(path);
        ASSERT_TRUE(log.ok()) << "write " << nth << ": " << log.problem().text();
        ASSERT_TRUE(log.value()->check().ok()) << "write " << nth;
        if (!made)
            for (const auto& file : std::filesystem::directory_iterator(folder.path()))
                std::filesystem::remove(file);
    }
}

TEST(LogBadInput, DamageAnywhereIsToldOfOrReadButNeverWorse) {
    const TempFolder folder;
    const auto original = folder / "log.sqlite";
    const auto takes = filledLog(original, 4);
    const std::string bytes = bytesOf(original);
    int told = 0;
    constexpr int seeds = 150;
    for (std::uint64_t seed = 0; seed < seeds; ++seed) {
        RandomTakes random(seed);
        std::string damaged = bytes;
        const int last = static_cast<int>(damaged.size()) - 1;
        for (int i = random.whole(1, 400); i > 0; --i)
            damaged[static_cast<std::size_t>(random.whole(0, last))] =
                static_cast<char>(random.whole(0, 255));
        if (random.coin())
            damaged.resize(static_cast<std::size_t>(random.whole(1, last)));
        const auto path = folder / "damaged.sqlite";
        setBytes(path, damaged);
        bool wrong = false;
        const auto note = [&](const auto& result) {
            if (!result.ok()) {
                EXPECT_FALSE(result.problem().remedy.empty()) << "seed " << seed;
                wrong = true;
            }
        };
        if (auto log = LogStore::open(path); log.ok()) {
            note(log.value()->recoverOpenTakes());
            note(log.value()->takes({}));
            note(log.value()->planTakes({}));
            note(log.value()->forEachTake({}, [](const TakeRecord&) { return true; }));
            note(log.value()->rules("a", "b", "c"));
            note(log.value()->finishTake(RandomTakes(99).take(5)));
            note(log.value()->check());
        } else {
            note(log);
            EXPECT_EQ(bytesOf(path), damaged) << "seed " << seed << ": a refused file is left as it is";
        }
        told += wrong ? 1 : 0;
        for (const char* name : {"damaged.sqlite", "damaged.sqlite-wal", "damaged.sqlite-shm"})
            std::filesystem::remove(folder / name);
    }
    EXPECT_GT(told, seeds / 2); // most damage is noticed
}

TEST(LogBadInput, ValuesThatNoVersionWritesAreToldOf) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    const std::string id = filledLog(path, 1).front().header.id;
    const auto set = [&](const char* sql) {
        SQLite::Database(path.string(), SQLite::OPEN_READWRITE).exec(sql);
    };
    const auto log = LogStore::open(path);
    set("UPDATE changes SET valves_to = '1-9' WHERE position = 3");
    expectTold(log.value()->take(id), path, "valves_to");
    set("UPDATE changes SET valves_to = '0' WHERE position = 3; UPDATE takes SET state = 'lost'");
    expectTold(log.value()->takes({}), path, "state");
    set("UPDATE takes SET state = 'whole', messages = '[1'");
    expectTold(log.value()->take(id), path, "list of words");
}

TEST(LogBadInput, MovedOrDeletedFileIsNoticedBeforeATakeGoesNowhere) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    filledLog(path, 1);
    const auto log = LogStore::open(path);
    EXPECT_FALSE(log.value()->moved());
    std::filesystem::rename(path, folder / "old.sqlite");
    EXPECT_TRUE(log.value()->moved());
    expectTold(log.value()->finishTake(RandomTakes(9).take(3)), path, "moved or deleted");
}

TEST(LogBadInput, LogChangedByANewerVersionWhileOpenIsNotWritten) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    const auto log = LogStore::open(path);
    SQLite::Database(path.string(), SQLite::OPEN_READWRITE)
        .exec("PRAGMA user_version = " + std::to_string(LogStore::schemaVersion + 1));
    expectTold(log.value()->finishTake(RandomTakes(9).take(3)), path, "newer version");
}

} // namespace valveladder
