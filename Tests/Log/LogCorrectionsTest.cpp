// What players say of reports, kept in the log. All takes are invented.
#include "Log/LogStore.h"

#include "Listening/Measures.h"
#include "Log/RandomTakes.h"
#include "Log/TempFolder.h"
#include "Records/Fields.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <gtest/gtest.h>

#include <algorithm>

namespace valveladder {

namespace {

std::unique_ptr<LogStore> opened(const std::filesystem::path& path) {
    auto store = LogStore::open(path);
    EXPECT_TRUE(store.ok()) << store.problem().text();
    return store.ok() ? std::move(store.value()) : nullptr;
}

/// Eight notes in one segment, all right but a wrong one and one that spoke twice; it did not pass.
TakeRecord faultyTake(std::uint64_t seed = 1) {
    TakeRecord take = RandomTakes(seed).take(8);
    take.header.player = "Ada";
    take.header.drillName = "Ladder";
    take.header.instrumentId = "tuba-f";
    take.header.invented = false;
    take.state = TakeState::whole;
    take.passed = false;
    Performance& played = take.performance;
    for (NoteResult& note : played.notes) {
        const int index = note.index;
        note = {};
        note.index = index;
        note.outcome = Outcome::right;
        note.played = 60;
        note.deviationMs = 1.5;
    }
    played.notes[2].outcome = Outcome::wrong;
    played.notes[2].played = 61;
    played.notes[5].split = true;
    played.extras = {{4.0, 4.1, 60, 5}};
    SegmentResult segment;
    countNotes(segment, played.notes, 1);
    played.segments = {segment};
    return take;
}

const NoteReport wrong{2, ReportKind::wrong};
const NoteReport split{5, ReportKind::split};

std::vector<NoteReport> saidRight(const TakeRecord& take) {
    std::vector<NoteReport> reports;
    for (const Correction& each : take.corrections)
        reports.push_back(each.report);
    return reports;
}

struct OneTake {
    OneTake() : log(opened(folder / "log.sqlite")), take(faultyTake()) {
        EXPECT_TRUE(log->finishTake(take).ok());
    }
    [[nodiscard]] const std::string& id() const { return take.header.id; }
    TempFolder folder;
    std::unique_ptr<LogStore> log;
    TakeRecord take;
};

} // namespace

TEST(LogCorrections, ATakeIsReadAsThePlayerSaysAndAsHeardWhenAsked) {
    const OneTake one;
    ASSERT_TRUE(one.log->correct(one.id(), {wrong, split}, true).ok());
    const TakeRecord said = one.log->take(one.id()).value();
    EXPECT_TRUE(said.performance.clean());
    EXPECT_EQ(saidRight(said), (std::vector{wrong, split}));
    EXPECT_GT(said.corrections[0].saidUtc, 0);

    TakeRecord heard = one.log->take(one.id(), {.asHeard = true}).value();
    EXPECT_EQ(saidRight(heard), saidRight(said));
    heard.corrections.clear();
    EXPECT_EQ(heard, one.take) << "what was heard is never overwritten";
    EXPECT_TRUE(one.log->check().ok());
}

TEST(LogCorrections, AreTakenBackAsHeard) {
    const OneTake one;
    ASSERT_TRUE(one.log->correct(one.id(), {wrong, split}, true).ok());
    ASSERT_TRUE(one.log->correct(one.id(), {wrong}, false).ok());
    const TakeRecord take = one.log->take(one.id()).value();
    EXPECT_EQ(saidRight(take), std::vector{split});
    EXPECT_EQ(take.performance.notes[2].outcome, Outcome::wrong);
    ASSERT_TRUE(one.log->correct(one.id(), {split}, false).ok());
    EXPECT_EQ(one.log->take(one.id()).value(), one.take);
}

TEST(LogCorrections, SayingItTwiceIsSayingItOnce) {
    const OneTake one;
    ASSERT_TRUE(one.log->correct(one.id(), {wrong}, true).ok());
    const TakeRecord once = one.log->take(one.id()).value();
    ASSERT_TRUE(one.log->correct(one.id(), {wrong, wrong}, true).ok());
    EXPECT_EQ(one.log->take(one.id()).value(), once);
    ASSERT_TRUE(one.log->correct(one.id(), {split}, false).ok()); // was never said
    EXPECT_EQ(one.log->take(one.id()).value(), once);
}

TEST(LogCorrections, OfWhatWasNotReportedAreRefusedWhole) {
    const OneTake one;
    const auto refused = one.log->correct(one.id(), {wrong, {3, ReportKind::breath}}, true);
    ASSERT_FALSE(refused.ok());
    EXPECT_NE(refused.problem().text().find("note 4"), std::string::npos) << refused.problem().text();
    EXPECT_EQ(one.log->take(one.id()).value(), one.take) << "nothing of it may be written";
    EXPECT_FALSE(one.log->correct("nobody", {wrong}, true).ok());
}

TEST(LogCorrections, ListsCountThemAndKeepTheTakesNumber) {
    const OneTake one;
    const TakeRecord other = faultyTake(2);
    ASSERT_TRUE(one.log->finishTake(other).ok());
    const auto before = one.log->takes({}).value();
    ASSERT_TRUE(one.log->correct(one.id(), {wrong, split}, true).ok());
    for (const TakeFilter& filter : {TakeFilter{}, TakeFilter{.newest = 5}}) {
        const auto list = one.log->takes(filter).value();
        ASSERT_EQ(list.size(), before.size());
        for (std::size_t i = 0; i < list.size(); ++i) {
            EXPECT_EQ(list[i].number, before[i].number);
            const bool corrected = list[i].header.id == one.id();
            EXPECT_EQ(list[i].clean, corrected);
            EXPECT_EQ(list[i].wrong, corrected ? 0 : 1);
            EXPECT_EQ(list[i].right, corrected ? 8 : 7);
        }
    }
}

TEST(LogCorrections, ATakeThatPassesByThemHasPassedInThePlanUntilTheyAreTakenBack) {
    const OneTake one;
    TempoRules rules;
    rules.pass.maxIoiSpreadPercent = 0.0;
    rules.pass.maxExtra = 1;
    ASSERT_TRUE(one.log->setRules("Ada", "tuba-f", "Ladder", rules).ok());
    const auto passed = [&] { return one.log->planTakes({}).value().at(0).passed; };
    EXPECT_FALSE(passed());
    ASSERT_TRUE(one.log->correct(one.id(), {split}, true).ok());
    EXPECT_FALSE(passed()) << "the wrong note is still there";
    ASSERT_TRUE(one.log->correct(one.id(), {split}, false).ok());
    ASSERT_TRUE(one.log->correct(one.id(), {wrong}, true).ok());
    EXPECT_TRUE(passed()) << "by the plan's own rules, which let one extra note pass";
    EXPECT_TRUE(one.log->take(one.id()).value().passed);
    ASSERT_TRUE(one.log->correct(one.id(), {wrong}, false).ok());
    EXPECT_FALSE(passed());
}

TEST(LogCorrections, FindingsReadThemThoughTheTimesArePacked) {
    const OneTake one;
    ASSERT_TRUE(one.log->correct(one.id(), {wrong, split}, true).ok());
    int read = 0;
    const auto visit = [&](const TakeRecord& take) {
        ++read;
        EXPECT_EQ(take.performance.notes.size(), 8U);
        EXPECT_EQ(take.performance.count(Outcome::wrong), 0);
        EXPECT_FALSE(take.performance.notes[5].split);
        EXPECT_TRUE(take.performance.extras.empty());
        EXPECT_FALSE(take.performance.changes.empty());
        EXPECT_FALSE(take.performance.segments.empty());
        return true;
    };
    ASSERT_TRUE(one.log->forEachTake({}, visit, {.extras = false, .timesOnly = true}).ok());
    EXPECT_EQ(read, 1);
    ASSERT_TRUE(one.log
                    ->forEachTake({},
                                  [](const TakeRecord& take) {
                                      EXPECT_TRUE(take.performance.notes.empty());
                                      EXPECT_TRUE(take.performance.segments.empty());
                                      EXPECT_FALSE(take.performance.changes.empty());
                                      return true;
                                  },
                                  {.notes = false, .extras = false, .changes = true, .segments = false})
                    .ok());
}

TEST(LogCorrections, StayWhenTheTakeIsWrittenAgain) {
    const OneTake one;
    ASSERT_TRUE(one.log->correct(one.id(), {wrong}, true).ok());
    TakeRecord again = one.take;
    again.performance.notes[7].outcome = Outcome::missed;
    ASSERT_TRUE(one.log->finishTake(again).ok());
    const TakeRecord read = one.log->take(one.id()).value();
    EXPECT_EQ(saidRight(read), std::vector{wrong});
    EXPECT_EQ(read.performance.count(Outcome::missed), 1);
    EXPECT_EQ(read.performance.count(Outcome::wrong), 0);
}

TEST(LogCorrections, TheNewerWordWinsInAMergeBothWaysAndTwiceDoesNoHarm) {
    const TempFolder folder;
    const auto here = opened(folder / "here.sqlite");
    const auto there = opened(folder / "there.sqlite");
    const TakeRecord take = faultyTake();
    const std::string& id = take.header.id;
    ASSERT_TRUE(here->finishTake(take).ok());
    ASSERT_TRUE(there->finishTake(take).ok());
    ASSERT_TRUE(here->correct(id, {wrong}, true).ok());
    ASSERT_TRUE(there->correct(id, {split}, true).ok());

    EXPECT_EQ(here->merge(there->path()).value(), (MergeCount{.known = 1, .corrections = 1}));
    EXPECT_EQ(saidRight(here->take(id).value()), (std::vector{wrong, split}));
    EXPECT_EQ(here->merge(there->path()).value(), (MergeCount{.known = 1}));

    // Both have both now; the last word is here.
    EXPECT_EQ(there->merge(here->path()).value().corrections, 1);
    ASSERT_TRUE(here->correct(id, {split}, false).ok());
    EXPECT_EQ(here->merge(there->path()).value(), (MergeCount{.known = 1})) << "the older word loses";
    EXPECT_EQ(saidRight(here->take(id).value()), std::vector{wrong});
    EXPECT_EQ(there->merge(here->path()).value().corrections, 1);
    EXPECT_EQ(there->take(id).value(), here->take(id).value());
}

TEST(LogCorrections, ComeAlongWithATakeThatIsNewHereAsHeard) {
    const TempFolder folder;
    const auto here = opened(folder / "here.sqlite");
    {
        const auto there = opened(folder / "there.sqlite");
        ASSERT_TRUE(there->finishTake(faultyTake()).ok());
        ASSERT_TRUE(there->correct(faultyTake().header.id, {wrong}, true).ok());
    }
    EXPECT_EQ(here->merge(folder / "there.sqlite").value(), (MergeCount{.added = 1, .corrections = 1}));
    const std::string id = faultyTake().header.id;
    EXPECT_EQ(here->take(id).value().performance.count(Outcome::wrong), 0);
    EXPECT_EQ(here->take(id, {.asHeard = true}).value().performance, faultyTake().performance);
    ASSERT_TRUE(here->correct(id, {wrong}, false).ok());
    EXPECT_EQ(here->take(id).value(), faultyTake());
}

TEST(LogCorrections, ALaterWordCountsThoughTheClockWentBack) {
    const OneTake one;
    ASSERT_TRUE(one.log->correct(one.id(), {wrong}, true).ok());
    SQLite::Database((one.folder / "log.sqlite").string(), SQLite::OPEN_READWRITE)
        .exec("UPDATE corrections SET said_utc = 9000000000000");
    ASSERT_TRUE(one.log->correct(one.id(), {wrong}, false).ok());
    EXPECT_TRUE(one.log->take(one.id()).value().corrections.empty());
}

} // namespace valveladder
