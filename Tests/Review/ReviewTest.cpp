#include "Review/Review.h"

#include "Log/TempFolder.h"
#include "Review/Reviewer.h"
#include "Screen/Within.h"
#include "Session/SessionSetup.h"
#include "Support/FindingsTrials.h"
#include "Support/SimulatedLog.h"

#include <gtest/gtest.h>

#include <tuple>

namespace valveladder {
namespace {

using namespace simulated;

const Suspect threePressing{SuspectKind::press, 3, {}, {}, {}};

/// A log with invented practice in it, in a folder that goes away.
struct Practised {
    explicit Practised(const Practice& practice = {}, double extraMs = 30.0) : path(folder / "log.sqlite") {
        log = std::move(LogStore::open(path).value());
        keep(practice, extraMs);
    }
    void keep(const Practice& practice, double extraMs, std::uint64_t seed = 1) {
        Player player({{threePressing, extraMs}}, {}, seed);
        EXPECT_TRUE(keepPractice(*log, player, practice).ok());
    }
    [[nodiscard]] ReviewRequest request(const std::string& player = "Ann") const {
        ReviewRequest request;
        request.player = player;
        request.instrumentId = trialInstrument().id;
        request.now = factsOf(40, 66.0).startedUtcMs;
        return request;
    }

    TempFolder folder;
    std::filesystem::path path;
    std::unique_ptr<LogStore> log;
};

TEST(LogEvidence, IsWhatTheTakesThemselvesSay) {
    Practised practised;
    Player again({{threePressing, 30.0}}, {}, 1);
    const auto straight = practise(again, Practice{}.drill, trialInstrument(), 8);
    const auto read = readEvidence(*practised.log, {}).value();
    ASSERT_EQ(read.takes.size(), straight.size());
    EXPECT_EQ(findWeaknesses(read.takes).findings, findWeaknesses(straight).findings);
    for (std::size_t i = 0; i < straight.size(); ++i) {
        EXPECT_EQ(read.takes[i].facts.day, straight[i].facts.day);
        ASSERT_EQ(read.takes[i].segments.size(), straight[i].segments.size());
        EXPECT_EQ(read.takes[i].segments[0].ioiSpreadMs, straight[i].segments[0].ioiSpreadMs);
        EXPECT_EQ(read.takes[i].segments[0].meanLogChangeover, straight[i].segments[0].meanLogChangeover);
    }
    EXPECT_EQ(read.instrument->id, trialInstrument().id);
    EXPECT_EQ(read.ladder->name, Practice{}.drill.name);
}

TEST(LogEvidence, SlowerThanPlannedIsByThePlansOwnRules) {
    Practised practised;
    Player player({}, {}, 3);
    TakeRecord slow = recordOf(player, {.player = "Bo"}, 0);
    TakeRecord quick = recordOf(player, {.player = "Bo"}, 1);
    slow.playedBpm = slow.header.plannedBpm - 1.0;
    quick.playedBpm = quick.header.plannedBpm + 10.0;
    ASSERT_TRUE(practised.log->finishTake(slow).ok());
    ASSERT_TRUE(practised.log->finishTake(quick).ok());
    const auto slower = [&] {
        std::vector<bool> each;
        const LoggedEvidence read = readEvidence(*practised.log, {.player = "Bo"}).value();
        for (const TakeEvidence& take : read.takes)
            each.push_back(take.facts.slowerThanPlanned);
        return each;
    };
    EXPECT_EQ(slower(), (std::vector<bool>{true, false}));
    TempoRules rules;
    rules.toleranceBpm = 2.0;
    ASSERT_TRUE(practised.log->setRules("Bo", slow.header.instrumentId, slow.header.drillName, rules).ok());
    EXPECT_EQ(slower(), (std::vector<bool>{false, false}));
}

TEST(LogEvidence, LeavesOutAndCountsTakesWhoseDrillCannotBeRead) {
    Practised practised;
    Player player({}, {}, 3);
    TakeRecord broken = recordOf(player, {}, 9);
    broken.header.drillJson = "{}x";
    ASSERT_TRUE(practised.log->finishTake(broken).ok());
    const auto read = readEvidence(*practised.log, {}).value();
    EXPECT_EQ(read.takes.size(), 8u);
    EXPECT_EQ(read.unreadable, 1);
}

TEST(LogEvidence, FindsTheTakesOfAPracticeDayByTheRulesOfTheirPlan) {
    Practised practised;
    const std::int64_t day = factsOf(4, 66.0).day;
    EXPECT_EQ(takesOfDay(*practised.log, {}, day).value().size(), 4u);
    // 18:00 UTC is the next morning in New Zealand.
    TempoRules rules;
    rules.timeZone = "Pacific/Auckland";
    ASSERT_TRUE(practised.log->setRules("Ann", trialInstrument().id, Practice{}.drill.name, rules).ok());
    EXPECT_EQ(takesOfDay(*practised.log, {}, day + 1).value().size(), 4u);
    EXPECT_EQ(takesOfDay(*practised.log, {}, day - 1).value().size(), 0u);
}

TEST(LogEvidence, ATakeIsOfTheDayThatItHadWhereItWasPlayedWhenThePlanNamesNoZone) {
    Practised practised;
    Player player({}, {}, 3);
    const TakeRecord home = recordOf(player, {.player = "Bo"}, 0);
    TakeRecord away = recordOf(player, {.player = "Bo"}, 1);
    away.header.timeZone = "Pacific/Auckland"; // where 18:00 UTC is the next morning
    ASSERT_TRUE(practised.log->finishTake(home).ok());
    ASSERT_TRUE(practised.log->finishTake(away).ok());
    const auto read = readEvidence(*practised.log, {.player = "Bo"}).value();
    ASSERT_EQ(read.takes.size(), 2u);
    EXPECT_EQ(read.takes[0].facts.day, factsOf(0, 66.0).day);
    EXPECT_EQ(read.takes[1].facts.day, factsOf(1, 66.0).day + 1);
    RunningPlan plan(TempoRules{});
    const auto planned = practised.log->planTakes({.player = "Bo"}).value();
    for (const PlanTake& take : planned)
        plan.add(take);
    EXPECT_EQ(plan.newestDay(), read.takes[1].facts.day) << "as the plan counts it";
}

TEST(Review, NamesThePlantedFingerWithItsFigures) {
    const Practised practised;
    const Review review = reviewOf(*practised.log, practised.request()).value();
    EXPECT_EQ(review.takes, 8);
    EXPECT_EQ(review.days, 2);
    ASSERT_FALSE(review.findings.weaknesses.findings.empty());
    EXPECT_EQ(review.findings.weaknesses.findings.front().suspect, threePressing);
    EXPECT_FALSE(review.carryOver.empty());
    EXPECT_EQ(review.planDays.size(), 2u);
    ASSERT_TRUE(review.newestTwo.has_value());
    EXPECT_EQ(review.newestTwo->notes.notes.size(), review.newestTwo->score.notes.size());
}

TEST(Review, OfAPlayerWithoutTakesClaimsNothingAndStillProposesASession) {
    const Practised practised;
    const Review review = reviewOf(*practised.log, practised.request("Ben")).value();
    EXPECT_EQ(review.takes, 0);
    EXPECT_TRUE(review.words.claims.empty());
    ASSERT_FALSE(review.words.remarks.empty());
    EXPECT_NE(review.words.remarks[0].find("not enough data"), std::string::npos);
    ASSERT_TRUE(review.next.has_value());
    EXPECT_FALSE(review.next->items.empty());
}

TEST(LogEvidence, OpenTakesAreNobodysEvidenceNorCounted) {
    const Practised practised;
    Player player({}, {}, 3);
    const TakeRecord begun = recordOf(player, {}, 9);
    ASSERT_TRUE(practised.log->beginTake(begun.header).ok());
    EXPECT_EQ(practised.log->openTakes().value().size(), 1u);
    EXPECT_EQ(practised.log->takes({}).value().size(), 8u);
    EXPECT_EQ(takesOfDay(*practised.log, {}, factsOf(9, 66.0).day).value().size(), 0u);
    ReadingProgress progress;
    const auto read = readEvidence(*practised.log, {}, {}, &progress).value();
    EXPECT_EQ(read.takes.size(), 8u);
    EXPECT_EQ(read.listed.size(), 8u);
    EXPECT_EQ(progress.read.load(), 8);
    EXPECT_EQ(progress.all.load(), 8);
}

TEST(Review, OthersAreThePlayersOfTheLogTheNewestFirst) {
    Practised practised;
    practised.keep({.player = "Cleo", .takes = 5, .invented = true}, 0.0, 3);
    Practice later{.player = "Ann", .takes = 2, .invented = true};
    Player player({}, {}, 4);
    for (const int take : {20, 21}) {
        TakeRecord record = recordOf(player, later, take);
        record.header.id = "invented-" + record.header.id;
        ASSERT_TRUE(practised.log->finishTake(record).ok());
    }
    ASSERT_TRUE(practised.log->beginTake(recordOf(player, {}, 30).header).ok());
    const auto told = [](const std::vector<LogPlayer>& players) {
        std::vector<std::tuple<std::string, bool, int>> all;
        for (const LogPlayer& one : players)
            all.emplace_back(one.newest.player, one.newest.invented, one.takes);
        return all;
    };
    using Told = decltype(told({}));
    EXPECT_EQ(told(playersIn(*practised.log).value()),
              (Told{{"Ann", false, 8}, {"Ann", true, 2}, {"Cleo", true, 5}}));
    const Review review = reviewOf(*practised.log, practised.request("Ben")).value();
    EXPECT_EQ(told(review.others), (Told{{"Ann", true, 2}, {"Ann", false, 8}, {"Cleo", true, 5}}));
    EXPECT_EQ(review.others[0].newest.id, "invented-Ann-21");
    EXPECT_EQ(review.others[1].newest.id, "Ann-7");
}

TEST(Review, PlayersAndInventedTakesStayApart) {
    Practised practised;
    practised.keep({.player = "Ben", .takes = 3}, 0.0, 2);
    Practice invented{.takes = 5, .invented = true};
    invented.player = "Cleo";
    practised.keep(invented, 0.0, 3);
    EXPECT_EQ(reviewOf(*practised.log, practised.request("Ben")).value().takes, 3);
    EXPECT_EQ(reviewOf(*practised.log, practised.request("Cleo")).value().takes, 0);
    ReviewRequest made = practised.request("Cleo");
    made.invented = true;
    EXPECT_EQ(reviewOf(*practised.log, made).value().takes, 5);
    EXPECT_EQ(playersIn(*practised.log).value().size(), 3u);
}

TEST(Review, MadeUpTakesAreTakenAloneOnlyWhereAskedForAndWhereThereAreNoRealOnes) {
    Practised practised;
    Practice invented{.takes = 5, .invented = true};
    invented.player = "Cleo";
    practised.keep(invented, 0.0, 3);
    ReviewRequest either = practised.request("Cleo");
    either.inventedAlone = true;
    const Review made = reviewOf(*practised.log, either).value();
    EXPECT_EQ(made.takes, 5);
    EXPECT_TRUE(made.invented);
    practised.keep({.player = "Cleo", .takes = 2}, 0.0, 4);
    const Review real = reviewOf(*practised.log, either).value();
    EXPECT_EQ(real.takes, 2);
    EXPECT_FALSE(real.invented);
}

TEST(Review, ListsEveryFinishedTakeWithItsPracticeDayAndTellsHowFarItIs) {
    const Practised practised;
    ReadingProgress progress;
    const Review review = reviewOf(*practised.log, practised.request(), {}, &progress).value();
    ASSERT_EQ(review.listed.size(), 8u);
    EXPECT_EQ(review.listed.front().day, review.firstDay);
    EXPECT_EQ(review.listed.back().day, review.lastDay);
    EXPECT_EQ(progress.read.load(), 8);
    EXPECT_EQ(progress.all.load(), 8);
}

TEST(Review, PacesShowThePlantedFingerAsTheSlowestToPress) {
    const Practised practised;
    const Review review = reviewOf(*practised.log, practised.request()).value();
    const Pace* slowest = nullptr;
    for (const Pace& pace : review.paces)
        if (pace.suspect.kind == SuspectKind::press &&
            (slowest == nullptr || pace.ms.value > slowest->ms.value))
            slowest = &pace;
    ASSERT_NE(slowest, nullptr);
    EXPECT_EQ(slowest->suspect.finger, 3);
    EXPECT_LE(slowest->ms.low, slowest->ms.value);
    EXPECT_GE(slowest->ms.high, slowest->ms.value);
}

TEST(Review, MergingAnotherLogTwiceChangesNothing) {
    Practised practised;
    Practised other({.player = "Ben", .takes = 4}, 30.0);
    ASSERT_TRUE(practised.log->merge(other.path).ok());
    const auto once = reviewOf(*practised.log, practised.request("Ben")).value().words.claims;
    ASSERT_TRUE(practised.log->merge(other.path).ok());
    EXPECT_EQ(reviewOf(*practised.log, practised.request("Ben")).value().words.claims, once);
    EXPECT_EQ(playersIn(*practised.log).value().size(), 2u);
}

TEST(Review, ProposedSessionLoadsInOneStepAtItsTempo) {
    const Practised practised;
    ReviewRequest request = practised.request();
    request.bpm = 71.0;
    const Review review = reviewOf(*practised.log, request).value();
    SessionConfig before;
    before.player = "Ann";
    before.instrument = trialInstrument();
    before.drill = defaultDrill(trialInstrument());
    const auto config = checked(configFor(*review.next, before));
    ASSERT_TRUE(config.ok()) << config.problem().text();
    EXPECT_EQ(config.value().player, "Ann");
    EXPECT_EQ(config.value().drill, review.next->drill);
    EXPECT_NE(config.value().drill.name, before.drill.name); // a plan of its own
    EXPECT_DOUBLE_EQ(nextTempo(config.value().rules, {}, request.now).bpm, 71.0);
}

TEST(Review, StopsWhenAsked) {
    const Practised practised;
    std::stop_source stop;
    stop.request_stop();
    const auto review = reviewOf(*practised.log, practised.request(), stop.get_token());
    ASSERT_FALSE(review.ok());
    EXPECT_EQ(review.problem().kind, Problem::Kind::stopped);
}

TEST(Comparison, RefusesTakesOfAnotherDrillAndNamesThem) {
    Practised practised;
    Practice other{.player = "Ben", .takes = 1};
    other.drill = defaultDrill(trialInstrument());
    practised.keep(other, 0.0);
    const auto made = compareTakes(*practised.log, {{"a", {"Ann-0"}}, {"yesterday", {"Ben-0"}}});
    ASSERT_FALSE(made.ok());
    EXPECT_EQ(made.problem().where, "yesterday");
    EXPECT_FALSE(compareTakes(*practised.log, {{"a", {"Ann-0"}}, {"b", {"nobody"}}}).ok());
    EXPECT_FALSE(compareTakes(*practised.log, {{"a", {"Ann-0"}}}).ok());
}

TEST(Comparison, LaysDaysAndTakesAtOtherTemposSideBySide) {
    const Practised practised;
    const auto made = compareTakes(*practised.log, {{"one", {"Ann-0", "Ann-1"}}, {"two", {"Ann-5"}}});
    ASSERT_TRUE(made.ok()) << made.problem().text();
    ASSERT_EQ(made.value().notes.labels.size(), 2u);
    EXPECT_DOUBLE_EQ(made.value().notes.bpm[0], 66.0);
    EXPECT_DOUBLE_EQ(made.value().notes.bpm[1], 68.0);
    EXPECT_EQ(made.value().sides[0].takeIds.size(), 2u);
}

std::shared_ptr<const Reviewed> awaited(const Reviewer& reviewer, std::uint64_t number) {
    std::shared_ptr<const Reviewed> newest;
    const bool came = eventually([&] {
        newest = reviewer.newest();
        return newest && newest->number >= number;
    });
    return came ? newest : nullptr;
}

TEST(Reviewer, AnswersTheNewestRequest) {
    const Practised practised;
    Reviewer reviewer(practised.path);
    EXPECT_EQ(reviewer.newest(), nullptr);
    reviewer.start(practised.request("Ben"));
    const auto number = reviewer.start(practised.request("Ann"));
    const auto answered = awaited(reviewer, number);
    ASSERT_NE(answered, nullptr);
    ASSERT_TRUE(answered->result.ok()) << answered->result.problem().text();
    EXPECT_EQ(answered->result.value().player, "Ann");
}

TEST(Reviewer, SaysWhatIsWrongWithTheLogAndEndsAtOnce) {
    const TempFolder folder;
    Reviewer reviewer(folder / "none.sqlite");
    const auto answered = awaited(reviewer, reviewer.start({}));
    ASSERT_NE(answered, nullptr);
    EXPECT_FALSE(answered->result.ok());
    reviewer.start({});
    reviewer.cancel();
}

} // namespace
} // namespace valveladder
