#include "Log/TakeKeeper.h"

#include "Log/FaultyDisk.h"
#include "Log/RandomTakes.h"
#include "Log/TempFolder.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <gtest/gtest.h>

#include <cerrno>
#include <csignal>
#include <fstream>
#include <iterator>
#include <sys/resource.h>

namespace valveladder {

namespace {

std::vector<TakeRecord> randomTakes(std::uint64_t seed, int count) {
    RandomTakes random(seed);
    std::vector<TakeRecord> takes;
    for (int i = 0; i < count; ++i) {
        takes.push_back(random.take(6));
        takes.back().header.startedUtc = 1000 + i;
        takes.back().state = TakeState::whole;
    }
    return takes;
}

std::vector<TakeRecord> inLog(const std::filesystem::path& path) {
    std::vector<TakeRecord> takes;
    auto log = LogStore::open(path);
    EXPECT_TRUE(log.ok()) << log.problem().text();
    if (!log.ok())
        return takes;
    const auto read = log.value()->forEachTake({}, [&](const TakeRecord& take) {
        takes.push_back(take);
        return true;
    });
    EXPECT_TRUE(read.ok());
    return takes;
}

int filesIn(const TempFolder& folder, const std::string& part) {
    int count = 0;
    for (const auto& entry : std::filesystem::directory_iterator(folder.path()))
        count += entry.path().filename().string().find(part) != std::string::npos ? 1 : 0;
    return count;
}

/// Where takes wait, as the player is told.
std::filesystem::path toldPlace(const TakeKeeper& keeper) {
    const std::string words = "takes are kept in ";
    const std::string remedy = keeper.trouble().value().remedy;
    return remedy.substr(remedy.find(words) + words.size());
}

/// Something in the log's place that makes opening fail at once, and goes away again.
class Obstacle {
public:
    explicit Obstacle(std::filesystem::path where) : path(std::move(where)) {
        std::filesystem::create_directory(path);
    }
    ~Obstacle() { clear(); }
    void clear() {
        std::error_code ignored;
        if (std::filesystem::is_directory(path))
            std::filesystem::remove(path, ignored);
    }

private:
    std::filesystem::path path;
};

/// No file of this process may grow while this lives: setrlimit(2), RLIMIT_FSIZE.
class NoRoom {
public:
    NoRoom() {
        std::signal(SIGXFSZ, SIG_IGN);
        getrlimit(RLIMIT_FSIZE, &before);
        rlimit none = before;
        none.rlim_cur = 0;
        setrlimit(RLIMIT_FSIZE, &none);
    }
    ~NoRoom() { setrlimit(RLIMIT_FSIZE, &before); }
    NoRoom(const NoRoom&) = delete;
    NoRoom& operator=(const NoRoom&) = delete;

private:
    rlimit before{};
};

} // namespace

TEST(TakeKeeper, WritesToTheLogWhenAllIsWell) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    const auto takes = randomTakes(1, 2);
    TakeKeeper keeper(path);
    EXPECT_EQ(keeper.trouble(), std::nullopt);
    keeper.begin(takes[0].header);
    EXPECT_EQ(keeper.store()->openTakes().value().size(), 1U);
    keeper.finish(takes[0]);
    keeper.begin(takes[1].header);
    keeper.drop(takes[1].header.id);
    EXPECT_TRUE(keeper.store()->openTakes().value().empty());
    EXPECT_EQ(inLog(path), std::vector{takes[0]});
    EXPECT_EQ(keeper.waiting(), 0U);
    EXPECT_EQ(filesIn(folder, "waiting"), 0);
}

TEST(TakeKeeper, LockedLogGetsItsTakesWhenTheLockIsGone) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    const auto takes = randomTakes(2, 3);
    TakeKeeper keeper(path);
    keeper.store()->setBusyMs(50);
    keeper.begin(takes[0].header);
    SQLite::Database other(path.string(), SQLite::OPEN_READWRITE);
    other.exec("BEGIN EXCLUSIVE");
    for (const TakeRecord& take : takes) {
        keeper.begin(take.header);
        keeper.finish(take);
    }
    ASSERT_TRUE(keeper.trouble().has_value());
    EXPECT_NE(keeper.trouble()->what.find("locked"), std::string::npos);
    EXPECT_EQ(keeper.store(), nullptr);
    EXPECT_EQ(keeper.waiting(), 3U);
    EXPECT_EQ(std::vector(keeper.waitingTakes().begin(), keeper.waitingTakes().end()), takes);
    EXPECT_TRUE(std::filesystem::exists(toldPlace(keeper)));
    keeper.retry();
    EXPECT_EQ(keeper.waiting(), 3U);
    other.exec("ROLLBACK");
    keeper.retry();
    EXPECT_EQ(keeper.waiting(), 0U);
    EXPECT_EQ(keeper.trouble(), std::nullopt);
    ASSERT_NE(keeper.store(), nullptr);
    EXPECT_TRUE(keeper.store()->openTakes().value().empty());
    EXPECT_EQ(inLog(path), takes);
    EXPECT_EQ(filesIn(folder, "waiting"), 0);
}

TEST(TakeKeeper, WaitingTakesAreReadBackAtTheNextStart) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    const auto takes = randomTakes(3, 4);
    {
        const Obstacle obstacle(path);
        TakeKeeper keeper(path);
        for (const TakeRecord& take : takes)
            keeper.finish(take);
        EXPECT_EQ(keeper.waiting(), 4U);
    }
    TakeKeeper keeper(path);
    EXPECT_EQ(keeper.waiting(), 0U);
    EXPECT_FALSE(keeper.news().empty());
    EXPECT_TRUE(keeper.news().empty()); // told once
    EXPECT_EQ(inLog(path), takes);
    EXPECT_EQ(filesIn(folder, "waiting"), 0);
}

TEST(TakeKeeper, TakesWaitThroughAnyNumberOfStarts) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    const auto takes = randomTakes(4, 3);
    {
        const Obstacle obstacle(path);
        for (const TakeRecord& take : takes)
            TakeKeeper(path).finish(take);
        EXPECT_EQ(TakeKeeper(path).waiting(), 3U);
    }
    TakeKeeper keeper(path);
    EXPECT_EQ(inLog(path), takes);
    EXPECT_EQ(filesIn(folder, "waiting"), 0);
}

TEST(TakeKeeper, TakeBegunInTroubleAndNeverFinishedBecomesPartial) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    const auto takes = randomTakes(5, 3);
    {
        const Obstacle obstacle(path);
        TakeKeeper keeper(path);
        keeper.begin(takes[0].header);
        keeper.begin(takes[1].header);
        keeper.drop(takes[1].header.id);
        keeper.begin(takes[2].header);
        keeper.finish(takes[2]);
        EXPECT_EQ(keeper.waiting(), 1U);
    }
    TakeKeeper keeper(path);
    const auto landed = inLog(path);
    ASSERT_EQ(landed.size(), 2U);
    EXPECT_EQ(landed[0].header, takes[0].header);
    EXPECT_EQ(landed[0].state, TakeState::cutShort);
    EXPECT_EQ(landed[1], takes[2]);
}

TEST(TakeKeeper, TakeBegunInTroubleIsJournaledWhenTheLogIsBack) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    const auto takes = randomTakes(6, 1);
    Obstacle obstacle(path);
    TakeKeeper keeper(path);
    keeper.begin(takes[0].header);
    obstacle.clear();
    keeper.retry();
    ASSERT_NE(keeper.store(), nullptr);
    EXPECT_EQ(keeper.store()->openTakes().value().size(), 1U);
    keeper.finish(takes[0]);
    EXPECT_TRUE(keeper.store()->openTakes().value().empty());
    EXPECT_EQ(inLog(path), takes);
}

TEST(TakeKeeper, TakeDroppedInTroubleLeavesNoOpenTake) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    const auto takes = randomTakes(7, 1);
    TakeKeeper keeper(path);
    keeper.begin(takes[0].header);
    keeper.store()->setBusyMs(50);
    {
        SQLite::Database other(path.string(), SQLite::OPEN_READWRITE);
        other.exec("BEGIN EXCLUSIVE");
        keeper.drop(takes[0].header.id);
        EXPECT_TRUE(keeper.trouble().has_value());
    }
    keeper.retry();
    ASSERT_NE(keeper.store(), nullptr);
    EXPECT_TRUE(keeper.store()->openTakes().value().empty());
    EXPECT_TRUE(inLog(path).empty());
}

TEST(TakeKeeper, TornLastLineIsLeftOutAndTheRestLands) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    const auto takes = randomTakes(8, 2);
    std::filesystem::path spill;
    {
        const Obstacle obstacle(path);
        TakeKeeper keeper(path);
        for (const TakeRecord& take : takes)
            keeper.finish(take);
        spill = toldPlace(keeper);
    }
    std::filesystem::resize_file(spill, std::filesystem::file_size(spill) - 20);
    TakeKeeper keeper(path);
    EXPECT_EQ(inLog(path), std::vector{takes[0]});
    EXPECT_EQ(filesIn(folder, "waiting"), 0);
}

TEST(TakeKeeper, LinesThatCannotBeReadAreKeptForAnotherVersion) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    const auto takes = randomTakes(9, 1);
    std::filesystem::path spill;
    const std::string newer = R"({"format":"valve-ladder-take","version":9,"id":"x"})";
    {
        const Obstacle obstacle(path);
        TakeKeeper keeper(path);
        keeper.finish(takes[0]);
        spill = toldPlace(keeper);
    }
    std::ofstream(spill, std::ios::app) << newer << "\n";
    TakeKeeper keeper(path);
    EXPECT_EQ(inLog(path), takes);
    EXPECT_EQ(keeper.news().size(), 2U);
    ASSERT_EQ(filesIn(folder, ".unreadable"), 1);
    std::ifstream kept(spill.string() + ".unreadable");
    const std::string text{std::istreambuf_iterator<char>(kept), {}};
    EXPECT_NE(text.find(newer), std::string::npos);
    EXPECT_EQ(TakeKeeper(path).news().size(), 0U); // not read again
}

TEST(TakeKeeper, LogInAFolderThatCannotBeMadeWaitsInTheTemporaryFolder) {
    const TempFolder folder;
    std::ofstream(folder / "file") << "in the way";
    const auto path = (folder / "file") / "log.sqlite";
    const auto takes = randomTakes(10, 2);
    {
        TakeKeeper keeper(path);
        EXPECT_TRUE(keeper.trouble().has_value());
        for (const TakeRecord& take : takes)
            keeper.finish(take);
        EXPECT_EQ(toldPlace(keeper).parent_path(), std::filesystem::temp_directory_path());
        EXPECT_TRUE(std::filesystem::exists(toldPlace(keeper)));
    }
    std::filesystem::remove(folder / "file");
    TakeKeeper keeper(path);
    EXPECT_EQ(keeper.trouble(), std::nullopt);
    EXPECT_EQ(inLog(path), takes);
}

TEST(TakeKeeper, FullDiskKeepsTakesInMemoryAndSaysSo) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    const auto takes = randomTakes(11, 2);
    TakeKeeper keeper(path);
    std::optional<Problem> trouble;
    std::size_t waiting = 0;
    {
        const NoRoom noRoom;
        for (const TakeRecord& take : takes)
            keeper.finish(take);
        keeper.retry();
        trouble = keeper.trouble();
        waiting = keeper.waiting();
    }
    ASSERT_TRUE(trouble.has_value());
    EXPECT_NE(trouble->remedy.find("memory alone"), std::string::npos) << trouble->text();
    EXPECT_EQ(waiting, 2U);
    keeper.retry();
    EXPECT_EQ(keeper.waiting(), 0U);
    EXPECT_EQ(inLog(path), takes);
    EXPECT_EQ(filesIn(folder, "waiting"), 0);
}

TEST(TakeKeeper, FullDiskOfTheLogAloneSpillsBeside) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    const auto takes = randomTakes(12, 2);
    TakeKeeper keeper(path);
    FaultyDisk disk;
    disk.failFrom(1, ENOSPC);
    for (const TakeRecord& take : takes)
        keeper.finish(take);
    ASSERT_TRUE(keeper.trouble().has_value());
    EXPECT_NE(keeper.trouble()->what.find("full"), std::string::npos) << keeper.trouble()->text();
    EXPECT_EQ(filesIn(folder, "waiting"), 1);
    disk.heal();
    keeper.retry();
    EXPECT_EQ(inLog(path), takes);
    EXPECT_EQ(filesIn(folder, "waiting"), 0);
}

TEST(TakeKeeper, CorruptOrNewerLogIsLeftAloneAndTakesLandWhenItIsMovedAway) {
    for (const bool newer : {false, true}) {
        const TempFolder folder;
        const auto path = folder / "log.sqlite";
        const auto takes = randomTakes(13, 2);
        if (newer)
            SQLite::Database(path.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE)
                .exec("PRAGMA application_id = 1447849831; PRAGMA user_version = 99; CREATE TABLE t (a)");
        else
            std::ofstream(path) << std::string(10000, '#');
        TakeKeeper keeper(path);
        for (const TakeRecord& take : takes)
            keeper.finish(take);
        keeper.retry();
        EXPECT_EQ(keeper.waiting(), 2U);
        ASSERT_TRUE(keeper.trouble().has_value());
        EXPECT_NE(keeper.trouble()->what.find(newer ? "newer" : "not a log"), std::string::npos);
        std::filesystem::rename(path, folder / "old");
        keeper.retry();
        EXPECT_EQ(keeper.trouble(), std::nullopt);
        EXPECT_EQ(inLog(path), takes);
    }
}

TEST(TakeKeeper, LogDeletedWhileOpenIsBegunAnewAndTakesGoThere) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    const auto takes = randomTakes(14, 2);
    TakeKeeper keeper(path);
    keeper.finish(takes[0]);
    std::filesystem::remove(path);
    keeper.finish(takes[1]);
    EXPECT_EQ(keeper.trouble(), std::nullopt);
    EXPECT_FALSE(keeper.news().empty());
    EXPECT_EQ(inLog(path), std::vector{takes[1]});
}

TEST(TakeKeeper, SeveralKeepersInTroubleDoNotTakeEachOthersFiles) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    const auto takes = randomTakes(15, 2);
    Obstacle obstacle(path);
    TakeKeeper one(path);
    one.finish(takes[0]);
    TakeKeeper two(path);
    two.finish(takes[1]);
    EXPECT_EQ(one.waiting(), 1U);
    EXPECT_EQ(two.waiting(), 1U);
    EXPECT_EQ(filesIn(folder, "waiting"), 2);
    obstacle.clear();
    two.retry();
    EXPECT_EQ(inLog(path), std::vector{takes[1]});
    one.retry();
    EXPECT_EQ(inLog(path), takes);
    EXPECT_EQ(filesIn(folder, "waiting"), 0);
}

TEST(TakeKeeper, StaleSpillOfALandedTakeChangesNothing) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    const auto takes = randomTakes(16, 1);
    std::filesystem::path spill;
    std::string content;
    {
        const Obstacle obstacle(path);
        TakeKeeper keeper(path);
        keeper.begin(takes[0].header);
        spill = toldPlace(keeper);
        content = [&] {
            std::ifstream file(spill);
            return std::string{std::istreambuf_iterator<char>(file), {}};
        }();
        keeper.finish(takes[0]);
    }
    TakeKeeper(path).retry();
    ASSERT_EQ(inLog(path), takes);
    std::ofstream(spill) << content; // as if the program had died before it could delete the file
    TakeKeeper keeper(path);
    EXPECT_EQ(inLog(path), takes);
}

} // namespace valveladder
