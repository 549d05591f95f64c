#include "Log/LogStore.h"

#include "Log/RandomTakes.h"
#include "Log/TempFolder.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <gtest/gtest.h>

#include <fstream>
#include <map>

namespace valveladder {

namespace {

std::unique_ptr<LogStore> opened(const std::filesystem::path& path) {
    auto store = LogStore::open(path);
    EXPECT_TRUE(store.ok()) << store.problem().text();
    return store.ok() ? std::move(store.value()) : nullptr;
}

TakeRecord wholeTake(std::uint64_t seed) {
    TakeRecord take = RandomTakes(seed).take(8);
    take.state = TakeState::whole;
    take.playerNote.clear();
    return take;
}

std::map<std::string, TakeRecord> everything(const LogStore& log) {
    std::map<std::string, TakeRecord> takes;
    const auto read = log.forEachTake({}, [&](const TakeRecord& take) {
        takes[take.header.id] = take;
        return true;
    });
    EXPECT_TRUE(read.ok()) << read.problem().text();
    return takes;
}

MergeCount merged(LogStore& log, const std::filesystem::path& other) {
    const auto count = log.merge(other);
    EXPECT_TRUE(count.ok()) << count.problem().text();
    return count.ok() ? count.value() : MergeCount{};
}

} // namespace

TEST(LogMerge, TakesOfTwoMachinesComeTogetherAndMergingTwiceChangesNothing) {
    const TempFolder folder;
    const auto here = opened(folder / "here.sqlite");
    const auto there = opened(folder / "there.sqlite");
    std::map<std::string, TakeRecord> all;
    for (std::uint64_t seed = 0; seed < 9; ++seed) {
        const TakeRecord take = wholeTake(seed);
        all[take.header.id] = take;
        ASSERT_TRUE(seed % 3 == 0 || here->finishTake(take).ok());
        ASSERT_TRUE(seed % 3 == 1 || there->finishTake(take).ok());
    }
    EXPECT_EQ(merged(*here, there->path()), (MergeCount{.added = 3, .known = 3}));
    EXPECT_EQ(everything(*here), all);
    EXPECT_EQ(merged(*here, there->path()), (MergeCount{.known = 6}));
    EXPECT_EQ(everything(*here), all);
    merged(*there, here->path());
    EXPECT_EQ(everything(*there), all);
    EXPECT_TRUE(here->check().ok());
}

TEST(LogMerge, TheOtherLogIsNotChanged) {
    const TempFolder folder;
    const auto here = opened(folder / "here.sqlite");
    {
        const auto there = opened(folder / "there.sqlite");
        ASSERT_TRUE(there->finishTake(wholeTake(1)).ok());
    }
    const auto before = std::filesystem::last_write_time(folder / "there.sqlite");
    EXPECT_EQ(merged(*here, folder / "there.sqlite").added, 1);
    EXPECT_EQ(std::filesystem::last_write_time(folder / "there.sqlite"), before);
}

TEST(LogMerge, FinishedTakeReplacesAnOpenOrPartialOne) {
    const TempFolder folder;
    const auto here = opened(folder / "here.sqlite");
    const auto there = opened(folder / "there.sqlite");
    const TakeRecord open = wholeTake(1);
    const TakeRecord cut = wholeTake(2);
    TakeRecord partial = cut;
    partial.state = TakeState::cutShort;
    partial.performance.notes.resize(3);
    ASSERT_TRUE(here->beginTake(open.header).ok());
    ASSERT_TRUE(here->finishTake(partial).ok());
    ASSERT_TRUE(there->finishTake(open).ok());
    ASSERT_TRUE(there->finishTake(cut).ok());
    EXPECT_EQ(merged(*here, there->path()), (MergeCount{.replaced = 2}));
    EXPECT_EQ(here->take(open.header.id).value(), open);
    EXPECT_EQ(here->take(cut.header.id).value(), cut);
    EXPECT_TRUE(here->openTakes().value().empty());
    // The other way round the partial one has nothing to say.
    EXPECT_EQ(merged(*there, here->path()), (MergeCount{.known = 2}));
}

TEST(LogMerge, PartialTakeWithNotesReplacesOneThatACrashLeftEmpty) {
    const TempFolder folder;
    const auto here = opened(folder / "here.sqlite");
    const auto there = opened(folder / "there.sqlite");
    TakeRecord partial = wholeTake(1);
    partial.state = TakeState::cutShort;
    TakeRecord empty;
    empty.header = partial.header;
    empty.state = TakeState::cutShort;
    ASSERT_TRUE(here->finishTake(empty).ok());
    ASSERT_TRUE(there->finishTake(partial).ok());
    EXPECT_EQ(merged(*here, there->path()).replaced, 1);
    EXPECT_EQ(here->take(partial.header.id).value(), partial);
}

TEST(LogMerge, OpenTakeOfADeadProgramThereComesAsPartialAndOfALivingOneNotAtAll) {
    const TempFolder folder;
    const auto here = opened(folder / "here.sqlite");
    const auto there = opened(folder / "there.sqlite");
    const TakeHeader header = wholeTake(1).header;
    ASSERT_TRUE(there->beginTake(header).ok());
    EXPECT_EQ(merged(*here, there->path()), MergeCount{});
    SQLite::Database((folder / "there.sqlite").string(), SQLite::OPEN_READWRITE)
        .exec("UPDATE open_takes SET process_start = 'earlier'");
    EXPECT_EQ(merged(*here, there->path()), (MergeCount{.added = 1}));
    EXPECT_EQ(here->take(header.id).value().state, TakeState::cutShort);
    EXPECT_EQ(merged(*here, there->path()), (MergeCount{.known = 1}));
}

TEST(LogMerge, TheNewerPlayersNoteWinsBothWays) {
    const TempFolder folder;
    const auto here = opened(folder / "here.sqlite");
    const auto there = opened(folder / "there.sqlite");
    const TakeRecord take = wholeTake(1);
    ASSERT_TRUE(here->finishTake(take).ok());
    ASSERT_TRUE(there->finishTake(take).ok());
    ASSERT_TRUE(there->setPlayerNote(take.header.id, "mouthpiece changed").ok());
    EXPECT_EQ(merged(*there, here->path()), (MergeCount{.known = 1}));
    EXPECT_EQ(there->take(take.header.id).value().playerNote, "mouthpiece changed");
    EXPECT_EQ(merged(*here, there->path()), (MergeCount{.known = 1, .notes = 1}));
    EXPECT_EQ(here->take(take.header.id).value().playerNote, "mouthpiece changed");
    EXPECT_EQ(merged(*here, there->path()), (MergeCount{.known = 1}));
}

TEST(LogMerge, RulesComeAlongAndTheNewerOnesWin) {
    const TempFolder folder;
    const auto here = opened(folder / "here.sqlite");
    const auto there = opened(folder / "there.sqlite");
    const TempoRules rules = RandomTakes(1).rules();
    ASSERT_TRUE(here->setRules("Ada", "tuba-f", "Ladder", TempoRules{}).ok());
    SQLite::Database((folder / "here.sqlite").string(), SQLite::OPEN_READWRITE)
        .exec("UPDATE plan_rules SET changed_utc = 1");
    ASSERT_TRUE(there->setRules("Ada", "tuba-f", "Ladder", rules).ok());
    EXPECT_EQ(merged(*there, here->path()), MergeCount{});
    EXPECT_EQ(merged(*here, there->path()), (MergeCount{.rules = 1}));
    EXPECT_EQ(here->rules("Ada", "tuba-f", "Ladder").value(), rules);
    EXPECT_EQ(merged(*here, there->path()), MergeCount{});
}

TEST(LogMerge, WhatIsWrongWithTheOtherLogIsSaidOfTheOther) {
    const TempFolder folder;
    const auto here = opened(folder / "here.sqlite");
    const auto there = folder / "there.sqlite";
    EXPECT_EQ(here->merge(there).problem().where, there.string());
    std::ofstream(there) << std::string(3000, 'x');
    EXPECT_EQ(here->merge(there).problem().where, there.string());
    std::filesystem::remove(there);
    {
        const auto log = opened(there);
        ASSERT_TRUE(log->finishTake(wholeTake(1)).ok());
    }
    SQLite::Database(there.string(), SQLite::OPEN_READWRITE).exec("UPDATE notes SET outcome = 'lost'");
    EXPECT_EQ(here->merge(there).problem().where, there.string());
    EXPECT_TRUE(here->takes({}).value().empty());
}

} // namespace valveladder
