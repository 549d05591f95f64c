#include "Log/LogStore.h"

#include "Log/LoggedPlan.h"
#include "Log/RandomTakes.h"
#include "Log/TempFolder.h"
#include "Records/Fields.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <limits>
#include <thread>

namespace valveladder {

namespace {

std::unique_ptr<LogStore> opened(const std::filesystem::path& path) {
    auto store = LogStore::open(path);
    EXPECT_TRUE(store.ok()) << store.problem().text();
    return store.ok() ? std::move(store.value()) : nullptr;
}

/// A take that differs from others in what a filter looks at.
TakeRecord takeOf(std::uint64_t seed, const std::string& player, UtcMs started) {
    TakeRecord take = RandomTakes(seed).take(5);
    take.header.player = player;
    take.header.instrumentId = "trumpet-b-flat";
    take.header.drillName = "Chromatic ladder";
    take.header.startedUtc = started;
    take.header.invented = false;
    take.state = TakeState::whole;
    return take;
}

void write(LogStore& log, const TakeRecord& take) {
    const auto done = log.finishTake(take);
    ASSERT_TRUE(done.ok()) << done.problem().text();
}

std::vector<std::string> ids(const Result<std::vector<TakeSummary>>& takes) {
    std::vector<std::string> list;
    EXPECT_TRUE(takes.ok());
    if (takes.ok())
        for (const TakeSummary& take : takes.value())
            list.push_back(take.header.id);
    return list;
}

void expectSame(const TakeSummary& a, const TakeSummary& b) {
    EXPECT_EQ(a.header, b.header);
    EXPECT_EQ(a.endedUtc, b.endedUtc);
    EXPECT_EQ(a.state, b.state);
    EXPECT_EQ(a.end, b.end);
    EXPECT_EQ(a.playedBpm, b.playedBpm);
    EXPECT_EQ(a.clock, b.clock);
    EXPECT_EQ(a.roundTripMs, b.roundTripMs);
    EXPECT_EQ(a.roundTripFrom, b.roundTripFrom);
    EXPECT_EQ(a.soundFile, b.soundFile);
    EXPECT_EQ(a.passed, b.passed);
    EXPECT_EQ(a.playerNote, b.playerNote);
    EXPECT_EQ(a.messages, b.messages);
    EXPECT_EQ(a.source, b.source);
    EXPECT_EQ(std::tuple(a.expected, a.right, a.wrong, a.missed, a.extra, a.breaths),
              std::tuple(b.expected, b.right, b.wrong, b.missed, b.extra, b.breaths));
    EXPECT_EQ(a.clean, b.clean);
    EXPECT_EQ(a.asynchronyMs, b.asynchronyMs);
    EXPECT_EQ(a.worstIoiSpreadPercent, b.worstIoiSpreadPercent);
}

} // namespace

TEST(LogStore, TakeComesBackAsItWas) {
    const TempFolder folder;
    const auto log = opened(folder / "log.sqlite");
    for (std::uint64_t seed = 0; seed < 100; ++seed) {
        RandomTakes random(seed);
        const TakeRecord take = random.take(random.whole(0, 60));
        write(*log, take);
        const auto back = log->take(take.header.id);
        ASSERT_TRUE(back.ok()) << "seed " << seed << ": " << back.problem().text();
        ASSERT_EQ(back.value(), take) << "seed " << seed;
    }
    EXPECT_TRUE(log->check().ok());
}

TEST(LogStore, SummaryEqualsThatOfTheRecord) {
    const TempFolder folder;
    const auto log = opened(folder / "log.sqlite");
    const TakeRecord take = RandomTakes(7).take(40);
    write(*log, take);
    const auto takes = log->takes({});
    ASSERT_TRUE(takes.ok()) << takes.problem().text();
    ASSERT_EQ(takes.value().size(), 1U);
    expectSame(takes.value().front(), summaryOf(take));
    EXPECT_EQ(takes.value().front().expected, 40);
}

TEST(LogStore, TakesStayAfterTheLogIsClosed) {
    const TempFolder folder;
    const TakeRecord take = RandomTakes(8).take(10);
    write(*opened(folder / "a" / "b.sqlite"), take);
    const auto back = opened(folder / "a" / "b.sqlite")->take(take.header.id);
    ASSERT_TRUE(back.ok()) << back.problem().text();
    EXPECT_EQ(back.value(), take);
}

TEST(LogStore, FiltersRestrictAndOldestComesFirst) {
    const TempFolder folder;
    const auto log = opened(folder / "log.sqlite");
    TakeRecord third = takeOf(1, "Ada", 3000);
    TakeRecord first = takeOf(2, "Ada", 1000);
    TakeRecord second = takeOf(3, "Ben", 2000);
    TakeRecord fourth = takeOf(4, "Ada", 4000);
    fourth.header.invented = true;
    second.header.instrumentId = "tuba-f";
    third.header.drillName = "Cell";
    for (const TakeRecord* take : {&third, &first, &second, &fourth})
        write(*log, *take);
    const auto found = [&](const TakeFilter& filter) { return ids(log->takes(filter)); };
    using Ids = std::vector<std::string>;
    const std::string a = first.header.id, b = second.header.id, c = third.header.id, d = fourth.header.id;
    EXPECT_EQ(found({}), (Ids{a, b, c, d}));
    EXPECT_EQ(found({.player = "Ada"}), (Ids{a, c, d}));
    EXPECT_EQ(found({.player = "ada"}), Ids{});
    EXPECT_EQ(found({.instrumentId = "tuba-f"}), Ids{b});
    EXPECT_EQ(found({.drillName = "Cell"}), Ids{c});
    EXPECT_EQ(found({.fromUtc = 2000, .toUtc = 4000}), (Ids{b, c}));
    EXPECT_EQ(found({.withInvented = false}), (Ids{a, b, c}));
    EXPECT_EQ(found({.newest = 2}), (Ids{c, d}));
    EXPECT_EQ(found({.player = "Ada", .withInvented = false, .newest = 1}), Ids{c});
    EXPECT_EQ(found({.player = "'; DROP TABLE takes; --"}), Ids{});
    EXPECT_EQ(log->players().value(), (Ids{"Ada", "Ben"}));
}

TEST(LogStore, PlanTakesHoldWhatThePlanCounts) {
    const TempFolder folder;
    const auto log = opened(folder / "log.sqlite");
    TakeRecord whole = takeOf(1, "Ada", 1000);
    whole.passed = true;
    whole.playedBpm = 67.5;
    TakeRecord partial = takeOf(2, "Ada", 2000);
    partial.state = TakeState::cutShort;
    partial.passed = false;
    write(*log, partial);
    write(*log, whole);
    const auto takes = log->planTakes({.player = "Ada"});
    ASSERT_TRUE(takes.ok()) << takes.problem().text();
    ASSERT_EQ(takes.value().size(), 2U);
    const PlanTake& first = takes.value().front();
    EXPECT_EQ(first.startedUtc, 1000);
    EXPECT_EQ(first.takeId, whole.header.id);
    EXPECT_EQ(first.playedBpm, 67.5);
    EXPECT_TRUE(first.whole);
    EXPECT_TRUE(first.passed);
    EXPECT_TRUE(first.measured);
    EXPECT_EQ(first.timeZone, whole.header.timeZone);
    EXPECT_FALSE(takes.value().back().whole);
    EXPECT_FALSE(takes.value().back().passed);
}

TEST(LogStore, IdMayBeAnUnambiguousPrefix) {
    const TempFolder folder;
    const auto log = opened(folder / "log.sqlite");
    TakeRecord one = takeOf(1, "Ada", 1000);
    TakeRecord two = takeOf(2, "Ada", 2000);
    one.header.id = "abc-1";
    two.header.id = "abc-1-2";
    write(*log, one);
    write(*log, two);
    EXPECT_EQ(log->take("abc-1-").value().header.id, "abc-1-2");
    EXPECT_EQ(log->take("abc-1").value().header.id, "abc-1"); // whole ids win
    EXPECT_FALSE(log->take("abc").ok());
    EXPECT_FALSE(log->take("").ok());
    EXPECT_FALSE(log->take("x").ok());
    EXPECT_FALSE(log->take("%").ok());
}

TEST(LogStore, BulkReadingYieldsEveryTakeOnceAndStopsWhenTold) {
    const TempFolder folder;
    const auto log = opened(folder / "log.sqlite");
    std::vector<TakeRecord> written;
    for (int i = 0; i < 6; ++i) {
        written.push_back(takeOf(static_cast<std::uint64_t>(i), "Ada", 1000 + i));
        write(*log, written.back());
    }
    std::vector<TakeRecord> read;
    const auto all = log->forEachTake({}, [&](const TakeRecord& take) {
        read.push_back(take);
        return true;
    });
    ASSERT_TRUE(all.ok()) << all.problem().text();
    EXPECT_EQ(all.value(), 6);
    EXPECT_EQ(read, written);
    EXPECT_EQ(log->forEachTake({}, [](const TakeRecord&) { return false; }).value(), 1);

    const auto visit = [&](const TakeRecord& take) {
        EXPECT_TRUE(take.performance.notes.empty());
        EXPECT_EQ(take.performance.changes.size(), 4U);
        return true;
    };
    EXPECT_EQ(log->forEachTake({.newest = 2}, visit, {.notes = false}).value(), 2);
}

TEST(LogStore, WritingATakeAgainReplacesItButKeepsThePlayersNewerNote) {
    const TempFolder folder;
    const auto log = opened(folder / "log.sqlite");
    TakeRecord take = takeOf(1, "Ada", 1000);
    take.playerNote = "first";
    write(*log, take);
    ASSERT_TRUE(log->setPlayerNote(take.header.id, "second").ok());
    take.performance.notes.resize(2);
    write(*log, take);
    const auto back = log->take(take.header.id);
    ASSERT_TRUE(back.ok());
    EXPECT_EQ(back.value().performance.notes.size(), 2U);
    EXPECT_EQ(back.value().playerNote, "second");
    EXPECT_EQ(log->takes({}).value().size(), 1U);
}

TEST(LogStore, NoteOfAnUnknownTakeIsRefused) {
    const TempFolder folder;
    const auto log = opened(folder / "log.sqlite");
    EXPECT_FALSE(log->setPlayerNote("nobody", "text").ok());
}

TEST(LogStore, OpenTakeLeavesAJournalRowUntilItIsFinishedOrDropped) {
    const TempFolder folder;
    const auto log = opened(folder / "log.sqlite");
    const TakeRecord one = takeOf(1, "Ada", 1000);
    const TakeRecord two = takeOf(2, "Ada", 2000);
    ASSERT_TRUE(log->beginTake(one.header).ok());
    ASSERT_TRUE(log->beginTake(two.header).ok());
    EXPECT_EQ(log->openTakes().value(), (std::vector{one.header, two.header}));
    EXPECT_TRUE(log->takes({}).value().empty());
    write(*log, one);
    EXPECT_EQ(log->openTakes().value(), std::vector{two.header});
    ASSERT_TRUE(log->dropTake(two.header.id).ok());
    EXPECT_TRUE(log->openTakes().value().empty());
    EXPECT_EQ(log->takes({}).value().size(), 1U);
}

TEST(LogStore, OpenTakeOfALivingProcessIsLeftAlone) {
    const TempFolder folder;
    const auto log = opened(folder / "log.sqlite");
    ASSERT_TRUE(log->beginTake(takeOf(1, "Ada", 1000).header).ok());
    EXPECT_EQ(log->recoverOpenTakes().value(), 0);
    EXPECT_EQ(log->openTakes().value().size(), 1U);
}

TEST(LogStore, OpenTakeOfADeadProcessBecomesPartial) {
    const TempFolder folder;
    const auto log = opened(folder / "log.sqlite");
    const TakeHeader header = takeOf(1, "Ada", 1000).header;
    ASSERT_TRUE(log->beginTake(header).ok());
    // The same number, given again to a process that began at another time.
    SQLite::Database(folder / "log.sqlite", SQLite::OPEN_READWRITE)
        .exec("UPDATE open_takes SET process_start = 'earlier'");
    EXPECT_EQ(log->recoverOpenTakes().value(), 1);
    EXPECT_EQ(log->recoverOpenTakes().value(), 0);
    EXPECT_TRUE(log->openTakes().value().empty());
    const auto take = log->take(header.id);
    ASSERT_TRUE(take.ok()) << take.problem().text();
    EXPECT_EQ(take.value().state, TakeState::cutShort);
    EXPECT_EQ(take.value().header, header);
    EXPECT_FALSE(take.value().messages.empty());
}

TEST(LogStore, OpenTakeOfAnotherComputerIsLeftAlone) {
    const TempFolder folder;
    const auto log = opened(folder / "log.sqlite");
    ASSERT_TRUE(log->beginTake(takeOf(1, "Ada", 1000).header).ok());
    SQLite::Database(folder / "log.sqlite", SQLite::OPEN_READWRITE)
        .exec("UPDATE open_takes SET host = 'elsewhere', process_start = 'earlier'");
    EXPECT_EQ(log->recoverOpenTakes().value(), 0);
}

TEST(LogStore, TakeFinishedAfterItWasGivenUpReplacesThePartialOneAndNeverTheReverse) {
    const TempFolder folder;
    const auto log = opened(folder / "log.sqlite");
    const TakeRecord whole = takeOf(1, "Ada", 1000);
    TakeRecord givenUp;
    givenUp.header = whole.header;
    givenUp.state = TakeState::cutShort;
    write(*log, givenUp);
    write(*log, whole);
    EXPECT_EQ(log->take(whole.header.id).value(), whole);
    write(*log, givenUp);
    EXPECT_EQ(log->take(whole.header.id).value(), whole);
}

TEST(LogStore, ATakeInWhichNothingWasMeasuredIsNoFailureOfThePlan) {
    const TempFolder folder;
    const auto log = opened(folder / "log.sqlite");
    TakeRecord silent = takeOf(1, "Ada", 1000);
    silent.state = TakeState::whole;
    silent.passed = false;
    silent.performance = {};
    write(*log, silent);
    const auto takes = log->planTakes({.player = "Ada"});
    ASSERT_TRUE(takes.ok()) << takes.problem().text();
    ASSERT_EQ(takes.value().size(), 1U);
    EXPECT_FALSE(takes.value().front().measured);
}

TEST(LogStore, APlansRulesAreThoseKeptThenThoseOfTheDrillsFileThenTheUsualOnes) {
    const TempFolder folder;
    const auto log = opened(folder / "log.sqlite");
    TempoRules ofFile;
    ofFile.startBpm = 51.0;
    EXPECT_EQ(planRules(*log, "Ada", "tuba-f", "Ladder").value(), TempoRules{});
    EXPECT_EQ(planRules(*log, "Ada", "tuba-f", "Ladder", ofFile).value(), ofFile);
    TempoRules kept;
    kept.startBpm = 66.0;
    ASSERT_TRUE(log->setRules("Ada", "tuba-f", "Ladder", kept).ok());
    EXPECT_EQ(planRules(*log, "Ada", "tuba-f", "Ladder", ofFile).value(), kept);
    EXPECT_EQ(planRules(*log, "Ada", "tuba-f", "Other", ofFile).value(), ofFile);
}

TEST(LogStore, RulesAndRoundTripAreKept) {
    const TempFolder folder;
    const auto log = opened(folder / "log.sqlite");
    EXPECT_EQ(log->rules("Ada", "tuba-f", "Ladder").value(), std::nullopt);
    const TempoRules rules = RandomTakes(3).rules();
    ASSERT_TRUE(log->setRules("Ada", "tuba-f", "Ladder", TempoRules{}).ok());
    ASSERT_TRUE(log->setRules("Ada", "tuba-f", "Ladder", rules).ok());
    EXPECT_EQ(log->rules("Ada", "tuba-f", "Ladder").value(), rules);
    EXPECT_EQ(log->rules("Ada", "tuba-f", "Other").value(), std::nullopt);

    EXPECT_EQ(log->roundTripMs("Interface 1").value(), std::nullopt);
    ASSERT_TRUE(log->setRoundTripMs("Interface 1", 11.25).ok());
    EXPECT_EQ(log->roundTripMs("Interface 1").value(), 11.25);
}

TEST(LogStore, TakeWithFiguresThatAreNotFiniteIsKept) {
    const TempFolder folder;
    const auto log = opened(folder / "log.sqlite");
    TakeRecord take = takeOf(1, "Ada", 1000);
    take.playedBpm = std::numeric_limits<double>::quiet_NaN();
    take.startPpq = std::numeric_limits<double>::infinity();
    take.performance.notes[0].cents = std::numeric_limits<double>::quiet_NaN();
    write(*log, take);
    const auto back = log->take(take.header.id);
    ASSERT_TRUE(back.ok()) << back.problem().text();
    EXPECT_EQ(back.value().playedBpm, 0.0);
    EXPECT_EQ(back.value().startPpq, 0.0);
    EXPECT_EQ(back.value().performance.notes[0].cents, std::nullopt);
}

TEST(LogStore, MachineIsAUuidAndStays) {
    const TempFolder folder;
    const std::string machine = opened(folder / "log.sqlite")->machine();
    EXPECT_EQ(machine.size(), 36U);
    EXPECT_EQ(machine[14], '4'); // version, RFC 9562 section 5.4
    EXPECT_NE(std::string("89ab").find(machine[19]), std::string::npos);
    EXPECT_EQ(opened(folder / "log.sqlite")->machine(), machine);
    EXPECT_NE(opened(folder / "other.sqlite")->machine(), machine);
}

TEST(LogStore, TakeBegunWithoutALogIsGivenTheLogsMachine) {
    const TempFolder folder;
    const auto log = opened(folder / "log.sqlite");
    TakeRecord take = takeOf(1, "Ada", 1000);
    take.header.machine.clear();
    write(*log, take);
    EXPECT_EQ(log->take(take.header.id).value().header.machine, log->machine());
}

TEST(LogStore, ThreadsWithAStoreEachWriteAtOnceWithoutLoss) {
    const TempFolder folder;
    constexpr int writers = 4;
    constexpr int takesEach = 10;
    std::vector<std::thread> threads;
    std::vector<int> failures(writers, 0);
    for (int writer = 0; writer < writers; ++writer)
        threads.emplace_back([&, writer] {
            auto log = LogStore::open(folder / "log.sqlite", 20000);
            if (!log.ok()) {
                failures[static_cast<std::size_t>(writer)] = takesEach;
                return;
            }
            for (int i = 0; i < takesEach; ++i) {
                const TakeRecord take =
                    takeOf(static_cast<std::uint64_t>(writer * 100 + i), "Ada", writer * 100 + i);
                const bool ok =
                    log.value()->beginTake(take.header).ok() && log.value()->finishTake(take).ok();
                failures[static_cast<std::size_t>(writer)] += ok ? 0 : 1;
            }
        });
    for (std::thread& thread : threads)
        thread.join();
    EXPECT_EQ(failures, std::vector<int>(writers, 0));
    const auto log = opened(folder / "log.sqlite");
    EXPECT_EQ(log->takes({}).value().size(), static_cast<std::size_t>(writers * takesEach));
    EXPECT_TRUE(log->openTakes().value().empty());
    EXPECT_TRUE(log->check().ok());
}

TEST(LogStore, DefaultPathFollowsTheEnvironment) {
    setenv("VALVE_LADDER_LOG", "/some/where.sqlite", 1);
    EXPECT_EQ(defaultLogPath(), "/some/where.sqlite");
    unsetenv("VALVE_LADDER_LOG");
#if defined(__linux__)
    setenv("XDG_DATA_HOME", "/data", 1);
    EXPECT_EQ(defaultLogPath(), "/data/Valve Ladder/log.sqlite");
    // XDG Base Directory Specification 0.8: relative paths are invalid and ignored.
    setenv("XDG_DATA_HOME", "data", 1);
    setenv("HOME", "/home/ada", 1);
    EXPECT_EQ(defaultLogPath(), "/home/ada/.local/share/Valve Ladder/log.sqlite");
    unsetenv("XDG_DATA_HOME");
    EXPECT_EQ(defaultLogPath(), "/home/ada/.local/share/Valve Ladder/log.sqlite");
#endif
}

} // namespace valveladder
