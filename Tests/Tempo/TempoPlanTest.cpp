#include "PlanSupport.h"

#include "Tempo/TempoMap.h"
#include "Words/PlanWords.h"

#include <gtest/gtest.h>

#include <limits>

namespace valveladder {

using plansupport::utc;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double nan = std::numeric_limits<double>::quiet_NaN();

TempoRules byTake() {
    TempoRules rules;
    rules.stepPerTake = 2.0;
    rules.timeZone = "Etc/UTC";
    return rules;
}

PlanTake at(int minute, double bpm, bool passed, bool whole = true) {
    return {utc(2026, 1, 5, 12, minute), "take-" + std::to_string(minute), bpm, whole, passed};
}

const UtcMs sameDay = utc(2026, 1, 5, 20, 0);
const UtcMs nextDay = utc(2026, 1, 6, 9, 0);

} // namespace

TEST(TempoPlan, EmptyLogStartsAtTheStart) {
    const PlannedTempo plan = nextTempo(byTake(), {}, sameDay);
    EXPECT_EQ(plan.bpm, 60.0);
    EXPECT_EQ(plan.reason, PlanReason::start);
    EXPECT_EQ(inWords(plan), "Start at 60.");
}

TEST(TempoPlan, WordsSayWhatHappenedAndWhatComes) {
    const TempoRules rules = byTake();
    EXPECT_EQ(inWords(nextTempo(rules, {at(0, 60, true)}, sameDay)), "Passed at 60: next take at 62.");
    EXPECT_EQ(inWords(nextTempo(rules, {at(0, 70, true)}, sameDay)),
              "Passed at 70 (60 was planned): next take at 62.");
    EXPECT_EQ(inWords(nextTempo(rules, {at(0, 60, false)}, sameDay)),
              "Not passed at 60, 1 of 2 before stepping back: once more at 60.");
    EXPECT_EQ(inWords(nextTempo(rules, {at(0, 60, true), at(1, 62, false), at(2, 62, false)}, sameDay)),
              "Not passed at 62: back to 60.");
    EXPECT_EQ(inWords(nextTempo(rules, {at(0, 60, false), at(1, 60, false)}, sameDay)),
              "Not passed at 60: stay at 60, or set a lower start.");
    EXPECT_EQ(inWords(nextTempo(rules, {at(0, 60, true), at(1, 50, true)}, sameDay)),
              "The last take was slower than planned and does not count: next take at 62.");
    EXPECT_EQ(inWords(nextTempo(rules, {at(0, 60, true, false)}, sameDay)),
              "The last take was cut short and does not count: start at 60.");
    EXPECT_EQ(inWords(nextTempo(rules, {at(0, 60, true)}, nextDay)),
              "New day after a passed take: 62 today, up from 60.");
    EXPECT_EQ(inWords(nextTempo(rules, {at(0, 60, false)}, nextDay)),
              "New day, no passed take on the last one: start at 60.");
}

TEST(TempoPlan, ReasonIsOfWhatDecidedLast) {
    TempoRules rules = byTake();
    EXPECT_EQ(nextTempo(rules, {at(0, 60, true)}, sameDay).reason, PlanReason::steppedUp);
    EXPECT_EQ(nextTempo(rules, {at(0, 60, true)}, nextDay).reason, PlanReason::newDayUp);
    EXPECT_EQ(nextTempo(rules, {at(0, 60, false)}, sameDay).reason, PlanReason::hold);
    EXPECT_EQ(nextTempo(rules, {at(0, 60, false)}, nextDay).reason, PlanReason::newDayHold);
    EXPECT_EQ(nextTempo(rules, {at(0, 60, true), at(1, 62, false), at(2, 62, false)}, sameDay).reason,
              PlanReason::steppedBack);
    rules.ceilingBpm = 61.0;
    EXPECT_EQ(nextTempo(rules, {at(0, 60, true)}, sameDay).reason, PlanReason::steppedUp);
    EXPECT_EQ(nextTempo(rules, {at(0, 60, true), at(1, 61, true)}, sameDay).reason, PlanReason::ceiling);
    EXPECT_STREQ(name(PlanReason::newDayHold), "new-day-hold");
}

TEST(TempoPlan, HoldCountsPassesInARowOfTheDay) {
    TempoRules rules = byTake();
    rules.passesPerStep = 3;
    const PlannedTempo two = nextTempo(rules, {at(0, 60, true), at(1, 60, true)}, sameDay);
    EXPECT_EQ(two.bpm, 60.0);
    EXPECT_EQ(two.passesInRow, 2);
    EXPECT_EQ(inWords(two), "Passed at 60, 2 of 3 in a row: next take at 60.");
    const PlannedTempo three = nextTempo(rules, {at(0, 60, true), at(1, 60, true), at(2, 60, true)}, sameDay);
    EXPECT_EQ(three.bpm, 62.0);
    EXPECT_EQ(three.passesInRow, 0);
    EXPECT_EQ(nextTempo(rules, {at(0, 60, true), at(1, 60, true)}, nextDay).passesInRow, 0);
}

TEST(TempoPlan, TakeJustInsideTheToleranceCountsAndJustOutsideDoesNot) {
    const TempoRules rules = byTake();
    EXPECT_EQ(nextTempo(rules, {at(0, 59.5, true)}, sameDay).bpm, 62.0);
    EXPECT_EQ(nextTempo(rules, {at(0, 59.4375, true)}, sameDay).bpm, 60.0);
}

// Day two's plan is 62: a take at 60 on it is too slow for that day, though it fits the day before.
TEST(TempoPlan, FirstTakeOfADayIsHeldAgainstThatDaysTempo) {
    TempoRules rules = byTake();
    rules.stepPerTake = 0.0;
    const PlanTake slow{nextDay, "slow", 60.0, true, false};
    const PlanTake slowAgain{nextDay + 60'000, "slow again", 60.0, true, false};
    const PlannedTempo plan = nextTempo(rules, {at(0, 60, true), slow, slowAgain}, nextDay + 120'000);
    EXPECT_EQ(plan.bpm, 62.0);
    EXPECT_EQ(plan.failuresInRow, 0);
}

TEST(TempoPlan, DayWithoutACountedTakeAddsNoStep) {
    const TempoRules rules = byTake();
    const PlanTake cut{nextDay, "cut", 62.0, false, true};
    EXPECT_EQ(nextTempo(rules, {at(0, 60, true), cut}, utc(2026, 1, 30, 9, 0)).bpm, 62.0);
}

TEST(TempoPlan, TakesInWhichNothingWasMeasuredNeitherPassNorFail) {
    TempoRules rules = byTake();
    rules.failuresBeforeBack = 1;
    PlanTake silent = at(5, 62, false);
    silent.measured = false;
    const PlannedTempo plan = nextTempo(rules, {at(0, 60, true), silent}, sameDay);
    EXPECT_EQ(plan.bpm, 62.0);
    EXPECT_EQ(plan.failuresInRow, 0);
    EXPECT_NE(inWords(plan).find("does not count"), std::string::npos) << inWords(plan);
}

TEST(TempoPlan, TakesLaterThanNowCountAndNowAddsNoDay) {
    const TempoRules rules = byTake();
    const PlannedTempo plan = nextTempo(rules, {at(0, 60, true)}, utc(2020, 1, 1, 0, 0));
    EXPECT_EQ(plan.bpm, 62.0);
    EXPECT_EQ(plan.reason, PlanReason::steppedUp);
}

TEST(TempoPlan, EqualTimesAreOrderedByTakeId) {
    TempoRules rules = byTake();
    rules.failuresBeforeBack = 1;
    const PlanTake pass{sameDay, "a", 60.0, true, true};
    const PlanTake fail{sameDay, "b", 62.0, true, false};
    EXPECT_EQ(nextTempo(rules, {fail, pass}, sameDay).reason, PlanReason::steppedBack);
    const PlanTake failFirst{sameDay, "A", 60.0, true, false};
    EXPECT_EQ(nextTempo(rules, {pass, failFirst}, sameDay).reason, PlanReason::steppedUp);
}

TEST(TempoPlan, ATakeGivenTwiceCountsOnceAndTheWholeCopyWins) {
    const TempoRules rules = byTake();
    const PlanTake partial = at(0, 60, false, false);
    EXPECT_EQ(nextTempo(rules, {at(0, 60, true), partial, at(0, 60, true)}, sameDay).bpm, 62.0);
}

TEST(TempoPlan, CeilingBelowTheStartHoldsEverythingAtTheCeiling) {
    TempoRules rules = byTake();
    rules.ceilingBpm = 50.0;
    EXPECT_EQ(nextTempo(rules, {}, sameDay).bpm, 50.0);
    EXPECT_EQ(nextTempo(rules, {at(0, 50, true), at(1, 50, true)}, nextDay).bpm, 50.0);
    EXPECT_EQ(nextTempo(rules, {at(0, 50, false), at(1, 50, false)}, nextDay).bpm, 50.0);
}

TEST(TempoPlan, TempoThatIsNotFiniteDoesNotCount) {
    const TempoRules rules = byTake();
    for (const double bpm : {nan, infinity, -infinity})
        EXPECT_EQ(nextTempo(rules, {at(0, bpm, true)}, nextDay).bpm, 60.0);
}

TEST(TempoPlan, RulesThatAreNoNumbersAreDrawnIntoRange) {
    TempoRules rules = byTake();
    rules.startBpm = nan;
    EXPECT_EQ(nextTempo(rules, {}, sameDay).bpm, 60.0);
    rules.startBpm = infinity;
    rules.ceilingBpm = infinity;
    EXPECT_EQ(nextTempo(rules, {}, sameDay).bpm, maxBpm);
    rules.startBpm = -1.0;
    EXPECT_EQ(nextTempo(rules, {}, sameDay).bpm, minBpm);
}

TEST(PassRule, TakeIsPassedWholeAndInsideEveryLimit) {
    PassRule rule;
    rule.maxWrong = 1;
    rule.maxMissed = 2;
    rule.maxExtra = 3;
    rule.maxIoiSpreadPercent = 10.0;
    EXPECT_TRUE(passes(rule, true, 1, 2, 3, 10.0));
    EXPECT_FALSE(passes(rule, false, 0, 0, 0, 0.0));
    EXPECT_FALSE(passes(rule, true, 2, 0, 0, 0.0));
    EXPECT_FALSE(passes(rule, true, 0, 3, 0, 0.0));
    EXPECT_FALSE(passes(rule, true, 0, 0, 4, 0.0));
    EXPECT_FALSE(passes(rule, true, 0, 0, 0, 10.01));
    EXPECT_FALSE(passes(rule, true, 0, 0, 0, nan));
}

TEST(PassRule, SpreadIsNotJudgedWhereSwitchedOffOrNotMeasured) {
    PassRule rule;
    EXPECT_TRUE(passes(rule, true, 0, 0, 0, std::nullopt));
    rule.maxIoiSpreadPercent = 0.0;
    EXPECT_TRUE(passes(rule, true, 0, 0, 0, 99.0));
}

TEST(TempoRules, DefaultsAreAccepted) {
    EXPECT_TRUE(checked(TempoRules{}).ok());
}

TEST(TempoRules, AStartAboveTheCeilingLiftsItAndAnotherLeavesIt) {
    TempoRules wanted;
    wanted.startBpm = 150.0;
    wanted.ceilingBpm = 150.0;
    EXPECT_EQ(withStart(TempoRules{}, 150.0), wanted);
    EXPECT_TRUE(checked(withStart(TempoRules{}, 150.0)).ok());
    wanted.startBpm = 72.0;
    EXPECT_EQ(withStart(wanted, 72.0), wanted) << "the ceiling does not come down again";
}

TEST(TempoRules, EachRuleOutOfRangeIsNamed) {
    const auto refused = [](auto change) {
        TempoRules rules;
        change(rules);
        const auto result = checked(rules);
        return result.ok() ? std::string() : result.problem().where;
    };
    EXPECT_EQ(refused([](TempoRules& r) { r.startBpm = 0.0; }), "start tempo");
    EXPECT_EQ(refused([](TempoRules& r) { r.startBpm = 1000.0; }), "start tempo");
    EXPECT_EQ(refused([](TempoRules& r) { r.startBpm = nan; }), "start tempo");
    EXPECT_EQ(refused([](TempoRules& r) { r.stepPerTake = 3.5; }), "step per take");
    EXPECT_EQ(refused([](TempoRules& r) { r.stepPerDay = -1.0; }), "step per day");
    EXPECT_EQ(refused([](TempoRules& r) { r.passesPerStep = 0; }), "passed takes per step");
    EXPECT_EQ(refused([](TempoRules& r) { r.failuresBeforeBack = 11; }), "failed takes before stepping back");
    EXPECT_EQ(refused([](TempoRules& r) { r.stepBack = 10.5; }), "step back");
    EXPECT_EQ(refused([](TempoRules& r) { r.ceilingBpm = infinity; }), "ceiling tempo");
    EXPECT_EQ(refused([](TempoRules& r) { r.ceilingBpm = 50.0; }), "ceiling tempo");
    EXPECT_EQ(refused([](TempoRules& r) { r.toleranceBpm = nan; }), "tempo tolerance");
    EXPECT_EQ(refused([](TempoRules& r) { r.dayStartsAtHour = 13; }), "hour at which the day starts");
    EXPECT_EQ(refused([](TempoRules& r) { r.timeZone = "Middle/Earth"; }), "time zone");
    EXPECT_EQ(refused([](TempoRules& r) { r.timeZone = "../../etc/passwd"; }), "time zone");
    EXPECT_EQ(refused([](TempoRules& r) { r.pass.maxWrong = -1; }), "wrong notes allowed");
    EXPECT_EQ(refused([](TempoRules& r) { r.pass.maxMissed = -1; }), "missed notes allowed");
    EXPECT_EQ(refused([](TempoRules& r) { r.pass.maxExtra = -1; }), "extra notes allowed");
    EXPECT_EQ(refused([](TempoRules& r) { r.pass.maxIoiSpreadPercent = 101.0; }), "spread allowed");
}

} // namespace valveladder
