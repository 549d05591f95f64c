#include "Log/LogStore.h"

#include "Log/TempFolder.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <gtest/gtest.h>

#include <fstream>
#include <iterator>

namespace valveladder {

namespace {

const char* const whole = "0b6f5a52-7d0c-4f3e-9d3a-0c5f5a1e7a01";
const char* const partial = "0b6f5a52-7d0c-4f3e-9d3a-0c5f5a1e7a02";
const char* const left = "0b6f5a52-7d0c-4f3e-9d3a-0c5f5a1e7a03";

/// The kept log of a schema version.
void makeVersion(int version, const std::filesystem::path& path) {
    std::ifstream file(VALVE_LADDER_SOURCE_DIR "/Tests/Log/fixtures/version-" + std::to_string(version) +
                       ".sql");
    const std::string sql{std::istreambuf_iterator<char>(file), {}};
    ASSERT_FALSE(sql.empty());
    SQLite::Database(path.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE).exec(sql);
}

/// What the take's row and results held when version 1 wrote them.
TakeRecord expectedTake(const std::string& machine) {
    TakeRecord take;
    take.header = {whole,
                   "Invented Ina",
                   "trumpet-b-flat",
                   "{}",
                   "Chromatic ladder",
                   "{}",
                   1700000000000,
                   "Europe/Vienna",
                   TakeWay::recordingPass,
                   66.0,
                   machine,
                   false};
    take.endedUtc = 1700000060000;
    take.playedBpm = 66.0;
    take.playedBpmLow = 65.5;
    take.playedBpmHigh = 66.5;
    take.startPpq = 4.0;
    take.endPpq = 68.0;
    take.clock = "host";
    take.roundTripMs = 11.5;
    take.roundTripFrom = RoundTripFrom::byHand;
    take.passed = true;
    take.playerNote = "warm lips";
    take.messages = {"the host was at 66"};
    Performance& played = take.performance;
    played.asynchronyMs = Estimate{-4.25, -6.0, -2.0, 2};
    NoteResult note;
    note.outcome = Outcome::right;
    note.played = 52;
    note.onsetSeconds = 3.625;
    note.offsetSeconds = 4.0;
    note.deviationMs = 1.5;
    note.rawDeviationMs = -2.75;
    note.loudnessDb = 0.5;
    NoteResult second = note;
    second.index = 1;
    second.played = 53;
    second.onsetSeconds = 4.0625;
    second.offsetSeconds = 4.5;
    second.ioiResidualMs = -3.5;
    second.split = second.breathBefore = true;
    NoteResult third;
    third.index = 2;
    played.notes = {note, second, third};
    played.extras = {{4.75, 4.875, 60, 2}};
    ChangeResult change;
    change.toIndex = 1;
    change.change = {Combination(0b0110), Combination(0b0101)};
    change.changeoverMs = 41.5;
    played.changes = {change};
    SegmentResult segment;
    segment.expected = 3;
    segment.right = 2;
    segment.missed = segment.extra = segment.breaths = 1;
    segment.played = true;
    segment.asynchronyMs = played.asynchronyMs;
    played.segments = {segment};
    return take;
}

TakeRecord expectedOfVersion2(const std::string& machine) {
    TakeRecord take = expectedTake(machine);
    take.header.invented = true;
    take.performance.asynchronySpreadMs = Estimate{3.5, 2.0, 5.0, 2};
    take.performance.notes[1].valvesWrong = true;
    take.performance.changes[0].fromSensors = true;
    take.performance.changes[0].fingerMs = {9.25, 4.5, std::nullopt, std::nullopt};
    return take;
}

std::vector<std::string> schemaOf(const std::filesystem::path& path) {
    SQLite::Database database(path.string(), SQLite::OPEN_READONLY);
    SQLite::Statement select(database,
                             "SELECT name || ': ' || coalesce(sql, '') FROM sqlite_master ORDER BY name");
    std::vector<std::string> list;
    while (select.executeStep())
        list.push_back(select.getColumn(0).getString());
    return list;
}

} // namespace

TEST(LogMigration, LogOfVersion1KeepsEverything) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    makeVersion(1, path);
    const auto opened = LogStore::open(path);
    ASSERT_TRUE(opened.ok()) << opened.problem().text();
    const LogStore& log = *opened.value();
    EXPECT_EQ(log.take(whole).value(), expectedTake(log.machine()));
    EXPECT_EQ(log.take(partial).value().state, TakeState::cutShort);
    EXPECT_EQ(log.takes({}).value().size(), 2U);
    EXPECT_EQ(log.openTakes().value().front().id, left);
    EXPECT_EQ(log.openTakes().value().front().machine, log.machine());
    EXPECT_EQ(log.rules("Invented Ina", "trumpet-b-flat", "Chromatic ladder").value()->startBpm, 58.0);
    EXPECT_EQ(log.roundTripMs("Interface 1").value(), 11.5);
    EXPECT_EQ(log.players().value(), std::vector<std::string>{"Invented Ina"});
    EXPECT_TRUE(log.check().ok());
}

TEST(LogMigration, LogOfVersion2KeepsEverything) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    makeVersion(2, path);
    const auto opened = LogStore::open(path);
    ASSERT_TRUE(opened.ok()) << opened.problem().text();
    const LogStore& log = *opened.value();
    EXPECT_EQ(log.machine(), "5e0c1f5a-33aa-4c1e-8f00-0123456789ab");
    EXPECT_EQ(log.take(whole).value(), expectedOfVersion2(log.machine()));
    const TakeRecord cut = log.take(partial).value();
    EXPECT_EQ(cut.roundTripFrom, RoundTripFrom::none);
    EXPECT_EQ(cut.soundFile, "");
    EXPECT_EQ(log.roundTripMs("Interface 1").value(), 11.5);
    EXPECT_EQ(log.openTakes().value().front().id, left);
    EXPECT_TRUE(log.check().ok());
}

TEST(LogMigration, LogOfVersion3KeepsEverything) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    makeVersion(3, path);
    const auto opened = LogStore::open(path);
    ASSERT_TRUE(opened.ok()) << opened.problem().text();
    const LogStore& log = *opened.value();
    TakeRecord expected = expectedOfVersion2(log.machine());
    expected.roundTripFrom = RoundTripFrom::measured;
    expected.soundFile = "invented.flac";
    EXPECT_EQ(log.take(whole).value(), expected);
    EXPECT_TRUE(log.check().ok());
    // Its takes have no packed times: findings read their rows.
    int notes = 0;
    ASSERT_TRUE(log.forEachTake({},
                                [&](const TakeRecord& take) {
                                    notes += static_cast<int>(take.performance.notes.size());
                                    return true;
                                },
                                {.extras = false, .timesOnly = true})
                    .ok());
    EXPECT_EQ(notes, 3);
}

TEST(LogMigration, LogOfVersion4KeepsEverything) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    makeVersion(4, path);
    const auto opened = LogStore::open(path);
    ASSERT_TRUE(opened.ok()) << opened.problem().text();
    const LogStore& log = *opened.value();
    TakeRecord expected = expectedOfVersion2(log.machine());
    expected.roundTripFrom = RoundTripFrom::measured;
    expected.soundFile = "invented.flac";
    EXPECT_EQ(log.take(whole).value(), expected);
    EXPECT_EQ(log.openTakes().value().front().id, left);
    // The take that 0.1.0 kept: its packed times and its rows say the same.
    const TakeRecord kept = log.take("3").value();
    EXPECT_EQ(kept.performance.count(Outcome::right), 3);
    std::vector<int> notes;
    ASSERT_TRUE(log.forEachTake({},
                                [&](const TakeRecord& take) {
                                    notes.push_back(static_cast<int>(take.performance.notes.size()));
                                    return true;
                                },
                                {.extras = false, .timesOnly = true})
                    .ok());
    EXPECT_EQ(notes, (std::vector<int>{3, 0, 3}));
    EXPECT_TRUE(log.check().ok());
}

TEST(LogMigration, LogOfVersion5KeepsEverythingAndTakesCorrections) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    makeVersion(5, path);
    const auto opened = LogStore::open(path);
    ASSERT_TRUE(opened.ok()) << opened.problem().text();
    LogStore& log = *opened.value();
    TakeRecord expected = expectedOfVersion2(log.machine());
    expected.roundTripFrom = RoundTripFrom::measured;
    expected.soundFile = "invented.flac";
    EXPECT_EQ(log.take(whole).value(), expected);
    EXPECT_EQ(log.openTakes().value().front().id, left);
    ASSERT_TRUE(log.correct(whole, {{2, ReportKind::missed}}, true).ok());
    EXPECT_EQ(log.take(whole).value().performance.count(Outcome::right), 3);
    EXPECT_TRUE(log.check().ok());
}

TEST(LogMigration, LogOfVersion6KeepsEverythingAndSaysNothingOfHowSure) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    makeVersion(6, path);
    const auto opened = LogStore::open(path);
    ASSERT_TRUE(opened.ok()) << opened.problem().text();
    const Performance played = opened.value()->take(whole).value().performance;
    ASSERT_FALSE(played.notes.empty());
    ASSERT_FALSE(played.extras.empty());
    for (const NoteResult& note : played.notes)
        EXPECT_EQ(note.likelihood, std::nullopt);
    EXPECT_EQ(played.extras.front().likelihood, std::nullopt);
    EXPECT_TRUE(opened.value()->check().ok());
}

TEST(LogMigration, LogOfVersion7SaysHowSureReportsAre) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    makeVersion(7, path);
    const auto opened = LogStore::open(path);
    ASSERT_TRUE(opened.ok()) << opened.problem().text();
    const Performance played = opened.value()->take(whole).value().performance;
    ASSERT_EQ(played.notes.size(), 3U);
    EXPECT_EQ(played.notes[2].likelihood, 0.875);
    EXPECT_EQ(played.extras.front().likelihood, 0.75);
    EXPECT_EQ(played.changes.front().lateLikelihood, 0.625);
}

TEST(LogMigration, EveryVersionHasASample) {
    for (int version = 1; version <= LogStore::schemaVersion; ++version) {
        const TempFolder folder;
        const auto path = folder / "log.sqlite";
        makeVersion(version, path);
        SQLite::Database database(path.string(), SQLite::OPEN_READONLY);
        EXPECT_EQ(database.execAndGet("PRAGMA user_version").getInt(), version);
    }
}

TEST(LogMigration, OpenTakeOfVersion1IsRecoveredForItsProcessWasNotNoted) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    makeVersion(1, path);
    const auto log = LogStore::open(path);
    ASSERT_TRUE(log.ok()) << log.problem().text();
    EXPECT_EQ(log.value()->recoverOpenTakes().value(), 1);
    EXPECT_EQ(log.value()->take(left).value().state, TakeState::cutShort);
}

TEST(LogMigration, MigratedLogHasTheSchemaOfANewOne) {
    const TempFolder folder;
    ASSERT_TRUE(LogStore::open(folder / "new.sqlite").ok());
    for (int version = 1; version < LogStore::schemaVersion; ++version) {
        const auto old = folder / ("old-" + std::to_string(version) + ".sqlite").c_str();
        makeVersion(version, old);
        ASSERT_TRUE(LogStore::open(old).ok()) << version;
        EXPECT_EQ(schemaOf(old), schemaOf(folder / "new.sqlite")) << version;
    }
    EXPECT_GT(schemaOf(folder / "new.sqlite").size(), 9U);
}

TEST(LogMigration, LogOfVersion1IsReadAndMergedWithoutBeingChanged) {
    const TempFolder folder;
    const auto path = folder / "old.sqlite";
    makeVersion(1, path);
    {
        const auto log = LogStore::openReadOnly(path);
        ASSERT_TRUE(log.ok()) << log.problem().text();
        EXPECT_EQ(log.value()->take(whole).value(), expectedTake(log.value()->machine()));
        EXPECT_FALSE(log.value()->setRoundTripMs("Interface 1", 1.0).ok());
    }
    const auto here = LogStore::open(folder / "here.sqlite");
    ASSERT_TRUE(here.ok());
    EXPECT_EQ(here.value()->merge(path).value(), (MergeCount{.added = 3, .rules = 1}));
    EXPECT_EQ(here.value()->merge(path).value(), (MergeCount{.known = 3}));
    SQLite::Database database(path.string(), SQLite::OPEN_READONLY);
    EXPECT_EQ(database.execAndGet("PRAGMA user_version").getInt(), 1);
}

TEST(LogMigration, FailedMigrationLeavesTheOldLogAsItWas) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    makeVersion(1, path);
    SQLite::Database(path.string(), SQLite::OPEN_READWRITE).exec("ALTER TABLE notes ADD COLUMN valves_wrong");
    const auto before = schemaOf(path);
    EXPECT_FALSE(LogStore::open(path).ok()); // the step would add a column that is there
    EXPECT_EQ(schemaOf(path), before);
    SQLite::Database database(path.string(), SQLite::OPEN_READONLY);
    EXPECT_EQ(database.execAndGet("PRAGMA user_version").getInt(), 1);
}

} // namespace valveladder
