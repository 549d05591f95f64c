#include "PlanSupport.h"

#include "Tempo/TempoMap.h"
#include "Words/PlanWords.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <limits>

namespace valveladder {

using plansupport::utc;
using plansupport::ZoneOfMachine;

namespace {

const char* const zones[] = {"Europe/Berlin", "America/New_York", "Australia/Lord_Howe",
                             "Asia/Tokyo",    "Pacific/Apia",     "Etc/UTC"};

int whole(int low, int high) {
    return *rc::gen::inRange(low, high + 1);
}

double halves(int low, int high) {
    return whole(2 * low, 2 * high) / 2.0;
}

TempoRules anyRules() {
    TempoRules rules;
    rules.startBpm = halves(40, 80);
    rules.stepPerTake = halves(0, 3);
    rules.stepPerDay = halves(1, 3);
    rules.passesPerStep = whole(1, 4);
    rules.failuresBeforeBack = whole(1, 4);
    rules.stepBack = halves(0, 10);
    rules.ceilingBpm = rules.startBpm + halves(0, 20);
    rules.timeZone = zones[whole(0, 5)];
    rules.dayStartsAtHour = whole(0, 12);
    return rules;
}

// Takes within some 40 days about the begin of summer time, in the tempos that plans reach; few ids and
// times, so that ties come up.
PlanTake anyTake() {
    PlanTake take;
    take.startedUtc = utc(2026, 3, 10, 0, 0) + whole(0, 40 * 24) * UtcMs{3'600'000};
    take.takeId = std::string(1, static_cast<char>('a' + whole(0, 3)));
    take.playedBpm = halves(30, 110);
    take.whole = whole(0, 7) > 0;
    take.passed = whole(0, 2) > 0;
    take.measured = whole(0, 7) > 0;
    return take;
}

std::vector<PlanTake> anyTakes() {
    std::vector<PlanTake> takes;
    for (int i = whole(0, 60); i > 0; --i)
        takes.push_back(anyTake());
    return takes;
}

bool equal(const PlannedTempo& a, const PlannedTempo& b) {
    return a.bpm == b.bpm && a.reason == b.reason && a.passesInRow == b.passesInRow &&
           a.failuresInRow == b.failuresInRow && inWords(a) == inWords(b);
}

const UtcMs afterwards = utc(2026, 4, 25, 12, 0);

} // namespace

RC_GTEST_PROP(TempoPlanProperty, OrderOfTheTakesDoesNotMatter, ()) {
    const TempoRules rules = anyRules();
    std::vector<PlanTake> takes = anyTakes();
    const PlannedTempo plan = nextTempo(rules, takes, afterwards);
    for (std::size_t i = takes.size(); i > 1; --i)
        std::swap(takes[i - 1], takes[static_cast<std::size_t>(whole(0, static_cast<int>(i) - 1))]);
    RC_ASSERT(equal(plan, nextTempo(rules, takes, afterwards)));
}

RC_GTEST_PROP(TempoPlanProperty, ALogMergedWithItselfGivesTheSamePlan, ()) {
    const TempoRules rules = anyRules();
    std::vector<PlanTake> takes = anyTakes();
    const PlannedTempo plan = nextTempo(rules, takes, afterwards);
    const std::vector<PlanTake> copy = takes;
    takes.insert(takes.end(), copy.begin(), copy.end());
    RC_ASSERT(equal(plan, nextTempo(rules, takes, afterwards)));
}

RC_GTEST_PROP(TempoPlanProperty, NeverBelowTheStartNorAboveTheCeiling, ()) {
    const TempoRules rules = anyRules();
    const PlannedTempo plan = nextTempo(rules, anyTakes(), afterwards);
    RC_ASSERT(plan.bpm >= rules.startBpm);
    RC_ASSERT(plan.bpm <= rules.ceilingBpm);
    RC_ASSERT(!inWords(plan).empty());
}

RC_GTEST_PROP(TempoPlanProperty, AbsurdRulesNeverLeaveThePlayableTempos, ()) {
    const double absurd[] = {std::numeric_limits<double>::quiet_NaN(),
                             std::numeric_limits<double>::infinity(),
                             -std::numeric_limits<double>::infinity(),
                             -1e300,
                             1e300,
                             0.0,
                             5.0,
                             1000.0};
    TempoRules rules = anyRules();
    for (double* value : {&rules.startBpm, &rules.stepPerTake, &rules.stepPerDay, &rules.stepBack,
                          &rules.ceilingBpm, &rules.toleranceBpm})
        if (whole(0, 1) == 1)
            *value = absurd[whole(0, 7)];
    rules.passesPerStep = whole(-5, 5);
    rules.failuresBeforeBack = whole(-5, 5);
    rules.dayStartsAtHour = whole(-100, 100);
    const PlannedTempo plan = nextTempo(rules, anyTakes(), afterwards);
    RC_ASSERT(plan.bpm >= minBpm && plan.bpm <= maxBpm);
}

RC_GTEST_PROP(TempoPlanProperty, TwoMachinesInOtherZonesAgree, ()) {
    const TempoRules rules = anyRules();
    const std::vector<PlanTake> takes = anyTakes();
    const auto on = [&](const char* zone) {
        const ZoneOfMachine machine(zone);
        return nextTempo(rules, takes, afterwards);
    };
    RC_ASSERT(equal(on(zones[whole(0, 5)]), on(zones[whole(0, 5)])));
}

RC_GTEST_PROP(TempoPlanProperty, OneMoreTakeMovesTheTempoByAtMostOneStep, ()) {
    const TempoRules rules = anyRules();
    std::vector<PlanTake> takes = anyTakes();
    PlanTake last = anyTake();
    last.startedUtc = afterwards;
    last.takeId = "z";
    const double before = nextTempo(rules, takes, afterwards).bpm;
    takes.push_back(last);
    const double after = nextTempo(rules, takes, afterwards).bpm;
    RC_ASSERT(after <= before + rules.stepPerTake);
    RC_ASSERT(after >= before - rules.stepBack);
}

// Without a zone in the rules the machine's own decides, so this is where two machines would differ: the test
// above would not notice a zone that is never looked at.
TEST(TempoPlanMachines, WithoutAZoneInTheRulesTheMachinesOwnDecides) {
    TempoRules rules;
    const std::vector<PlanTake> takes = {{utc(2026, 5, 4, 12, 0), "a", 60.0, true, true}};
    const UtcMs evening = utc(2026, 5, 4, 20, 0);
    const ZoneOfMachine newYork("America/New_York");
    EXPECT_EQ(nextTempo(rules, takes, evening).bpm, 60.0);
    const ZoneOfMachine tokyo("Asia/Tokyo");
    EXPECT_EQ(nextTempo(rules, takes, evening).bpm, 62.0);
}

// 20:00 UTC is 16:00 of that day in New York and 05:00 of the next in Tokyo.
TEST(TempoPlanMachines, WithoutAZoneInTheRulesATakesOwnDecidesItsDay) {
    TempoRules rules;
    const std::vector<PlanTake> takes = {{utc(2026, 5, 4, 20, 0), "a", 60.0, true, true, true, "Asia/Tokyo"}};
    const UtcMs dayAfter = utc(2026, 5, 5, 20, 0);
    const ZoneOfMachine newYork("America/New_York");
    EXPECT_EQ(nextTempo(rules, takes, dayAfter).bpm, 60.0) << "it was played on the fifth";
    RunningPlan plan(rules);
    plan.add(takes[0]);
    EXPECT_EQ(plan.newestDay(), practiceDay(rules, dayAfter));
    rules.timeZone = "America/New_York";
    EXPECT_EQ(nextTempo(rules, takes, dayAfter).bpm, 62.0) << "a zone that is named is everybody's";
}

} // namespace valveladder
