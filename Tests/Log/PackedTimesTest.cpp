#include "Log/PackedTimes.h"

#include "Log/LogStore.h"
#include "Log/RandomTakes.h"
#include "Log/TempFolder.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <gtest/gtest.h>

#include <limits>
#include <utility>

namespace valveladder {

namespace {

constexpr TakeParts times{.extras = false, .timesOnly = true};

std::vector<Performance> readTimes(const std::filesystem::path& path) {
    std::vector<Performance> all;
    const auto log = LogStore::openReadOnly(path);
    EXPECT_TRUE(log.ok()) << log.problem().text();
    const auto visit = [&](const TakeRecord& take) {
        all.push_back(take.performance);
        // Of an estimate only the value is told by both.
        for (SegmentResult& segment : all.back().segments)
            if (segment.ioiSpreadMs)
                segment.ioiSpreadMs = Estimate{segment.ioiSpreadMs->value, 0.0, 0.0, 0};
        return true;
    };
    EXPECT_TRUE(log.value()->forEachTake({}, visit, times).ok());
    return all;
}

/// A log of random takes; returns how many.
int writeTakes(const std::filesystem::path& path) {
    constexpr int takes = 30;
    auto log = LogStore::open(path);
    EXPECT_TRUE(log.ok()) << log.problem().text();
    RandomTakes random(20261128);
    for (int i = 0; i < takes; ++i)
        EXPECT_TRUE(log.value()->finishTake(random.take(i * 7)).ok());
    return takes;
}

void alter(const std::filesystem::path& path, const char* sql) {
    SQLite::Database(path.string(), SQLite::OPEN_READWRITE).exec(sql);
}

} // namespace

TEST(PackedTimes, TellsWhatTheRowsTell) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    const auto takes = static_cast<std::size_t>(writeTakes(path));
    const auto packed = readTimes(path);
    ASSERT_EQ(packed.size(), takes);
    alter(path, "DELETE FROM take_times");
    EXPECT_EQ(readTimes(path), packed);
    EXPECT_GT(packed.back().notes.size(), 100U);
}

TEST(PackedTimes, AreReadInPlaceOfTheRows) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    writeTakes(path);
    const auto before = readTimes(path);
    alter(path, "DELETE FROM notes; DELETE FROM changes; DELETE FROM segments");
    EXPECT_EQ(readTimes(path), before);
}

TEST(PackedTimes, GoWithTheirTake) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    writeTakes(path);
    SQLite::Database database(path.string(), SQLite::OPEN_READWRITE);
    database.exec("PRAGMA foreign_keys = ON; DELETE FROM takes WHERE number > 4");
    EXPECT_EQ(database.execAndGet("SELECT count(*) FROM take_times").getInt(), 4);
}

TEST(PackedTimes, BytesThatAreSpoiltGiveWayToTheRows) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    writeTakes(path);
    const auto before = readTimes(path);
    alter(path, "UPDATE take_times SET packed = substr(packed, 1, length(packed) - 1)");
    EXPECT_EQ(readTimes(path), before);
    alter(path, "UPDATE take_times SET packed = x''");
    EXPECT_EQ(readTimes(path), before);
    alter(path, "UPDATE take_times SET packed = x'01ffffffff00'");
    EXPECT_EQ(readTimes(path), before);
}

TEST(PackedTimes, NoCutAndNoChangedByteDoesHarm) {
    RandomTakes random(7);
    const std::string bytes = packTimes(random.take(20).performance);
    Performance read;
    ASSERT_TRUE(unpackTimes(bytes, read));
    for (std::size_t length = 0; length < bytes.size(); ++length)
        EXPECT_FALSE(unpackTimes(std::string_view(bytes).substr(0, length), read)) << length;
    EXPECT_FALSE(unpackTimes(bytes + '\0', read));
    for (std::size_t i = 0; i < bytes.size(); ++i)
        for (const int bit : {0, 3, 7}) {
            std::string changed = bytes;
            changed[i] = static_cast<char>(changed[i] ^ (1 << bit));
            (void)unpackTimes(changed, read); // right or wrong, but never beyond its bytes
            EXPECT_LE(read.notes.size(), bytes.size());
        }
}

TEST(PackedTimes, OfAnotherLayoutOrWithUnknownFlagsAreNotRead) {
    Performance played;
    played.notes = {NoteResult{}};
    played.changes = {ChangeResult{}};
    const std::string bytes = packTimes(played);
    // Layout, three counts of 4 bytes, and an index of 4 bytes before each row's flags.
    constexpr std::size_t noteFlags = 1 + 4 + 4;
    constexpr std::size_t changeFlags = noteFlags + 1 + 4 + 4;
    ASSERT_EQ(bytes.size(), changeFlags + 1 + 4);
    Performance read;
    ASSERT_TRUE(unpackTimes(bytes, read));
    for (const auto& [place, bit] : {std::pair<std::size_t, int>{0, 1}, {noteFlags, 4}, {changeFlags, 4}}) {
        std::string changed = bytes;
        changed[place] = static_cast<char>(changed[place] ^ (1 << bit));
        EXPECT_FALSE(unpackTimes(changed, read)) << place;
    }
}

TEST(PackedTimes, FigureThatIsNotFiniteIsAbsent) {
    Performance played;
    NoteResult note;
    note.deviationMs = std::numeric_limits<double>::quiet_NaN();
    played.notes = {note};
    Performance read;
    ASSERT_TRUE(unpackTimes(packTimes(played), read));
    EXPECT_FALSE(read.notes.front().deviationMs.has_value());
}

} // namespace valveladder
