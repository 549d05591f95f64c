#include "Findings/CarryOver.h"
#include "Findings/PlanReality.h"
#include "Findings/Tiring.h"
#include "Findings/Trend.h"
#include "Support/FindingsTrials.h"
#include "Words/PlanWords.h"
#include "Words/SuspectWords.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace valveladder {
namespace {

using namespace simulated;

const Suspect threePressing{SuspectKind::press, 3, {}, {}, {}};

std::vector<TakeEvidence> fullTakes(Player& player, int count) {
    return practise(player, fullDrill(trialInstrument()), trialInstrument(), count);
}

TEST(CarryOver, RelaxedAsGoodAsFirmIsNatural) {
    Spread steady;
    steady.onsetSdMs = 4.0;
    Player player({}, steady, 1);
    const auto found = carryOvers(fullTakes(player, 12));
    ASSERT_EQ(found.size(), 4u); // all rungs, then three
    EXPECT_TRUE(found[0].natural);
    EXPECT_EQ(found[0].slowerPercent.n, 36);
}

TEST(CarryOver, RelaxedSlowerIsMeasured) {
    Player player({}, {}, 2);
    auto takes = fullTakes(player, 12);
    for (auto& take : takes)
        for (auto& segment : take.segments)
            if (segment.touch == Touch::relaxed && segment.meanLogChangeover)
                *segment.meanLogChangeover += 0.2;
    const auto found = carryOvers(takes);
    ASSERT_FALSE(found.empty());
    EXPECT_FALSE(found[0].natural);
    EXPECT_NEAR(found[0].slowerPercent.value, 22.0, 4.0);
    EXPECT_LT(found[0].pSlower, 1e-6);
}

TEST(Tiring, HandThatTiresIsFoundAsAWhole) {
    Spread human;
    human.tiringMsPerMinute = 4.0;
    Player player({}, human, 3);
    const auto found = tiringIn(fullTakes(player, 24));
    ASSERT_FALSE(found.empty());
    EXPECT_FALSE(found[0].finger.has_value());
    EXPECT_LT(found[0].p, 0.01);
    EXPECT_LE(found[0].perTenMinutes.low, 40.0);
    EXPECT_GE(found[0].perTenMinutes.high, 40.0);
    for (const auto& one : found)
        if (one.finger) {
            EXPECT_GT(one.p, 0.001) << inWords(*one.finger);
        }
}

TEST(Tiring, OneFingerThatTiresIsToldFromTheHand) {
    Player player({}, {}, 4);
    auto takes = fullTakes(player, 24);
    const auto minutes = minutesBefore(takes);
    for (std::size_t i = 0; i < takes.size(); ++i)
        for (auto& change : takes[i].changes)
            if (threePressing.involves(change) && change.changeoverMs)
                *change.changeoverMs += static_cast<float>(4.0 * minutes[i]);
    const auto found = tiringIn(takes);
    const auto least =
        std::min_element(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.p < b.p; });
    ASSERT_NE(least, found.end());
    ASSERT_TRUE(least->finger.has_value());
    EXPECT_EQ(*least->finger, threePressing);
}

TEST(Tiring, PauseBeginsANewSitting) {
    Player player({}, {}, 5);
    const auto minutes = minutesBefore(fullTakes(player, 5)); // four a day
    EXPECT_DOUBLE_EQ(minutes[0], 0.0);
    EXPECT_DOUBLE_EQ(minutes[3], 9.0);
    EXPECT_DOUBLE_EQ(minutes[4], 0.0);
}

TEST(Trend, WeaknessThatWentIsSaidToBeNoLongerAProblem) {
    std::vector<TakeEvidence> takes;
    const auto drill = fullDrill(trialInstrument());
    const auto score = buildScore(drill, trialInstrument(), 60.0);
    ASSERT_TRUE(score.ok());
    Player weak({{threePressing, 40.0}}, {}, 6);
    Player sound({}, {}, 7);
    for (int i = 0; i < 72; ++i) {
        auto& player = i < 36 ? weak : sound;
        takes.push_back(evidenceOf(factsOf(i, 60.0), drill, trialInstrument(), score.value(),
                                   player.play(drill, trialInstrument(), score.value())));
    }
    const auto trend = trendOf(takes, threePressing, Complaint::slow);
    ASSERT_EQ(trend.days.size(), 18u);
    EXPECT_TRUE(trend.resolved);
    EXPECT_LT(trend.perWeek.high, 0.0);
}

TEST(Trend, WeaknessThatStaysIsNotResolved) {
    Player player({{threePressing, 25.0}}, {}, 8);
    const auto takes = fullTakes(player, 40);
    const auto trends = trendsIn(takes, findWeaknesses(takes));
    const auto found = std::find_if(trends.begin(), trends.end(),
                                    [](const auto& trend) { return trend.suspect == threePressing; });
    ASSERT_NE(found, trends.end());
    EXPECT_FALSE(found->resolved);
}

TEST(Trend, FewDaysGiveNone) {
    Player player({{threePressing, 25.0}}, {}, 9);
    EXPECT_TRUE(trendOf(fullTakes(player, 8), threePressing, Complaint::slow).days.empty());
}

TEST(PlanReality, TemposOfADayAreToldAsOneWhereNobodyHearsThemApart) {
    PlanDay day;
    day.day = 19786;
    day.drillName = "Ladder";
    day.takes = 1;
    day.plannedLow = 60.0;
    day.plannedHigh = 60.25; // set apart, as the plan's reasons tell it
    day.playedLow = 60.0;
    day.playedHigh = 60.04;
    EXPECT_EQ(inWords(day),
              "2024-03-04, Ladder: 1 take, 0 passed; planned 60 to 60.25 bpm, played 60 bpm; no "
              "tempo held");
}

TEST(PlanReality, DaysTemposAndWhatHeldAreCounted) {
    std::vector<TakeEvidence> takes(5);
    const double planned[] = {60, 62, 62, 64, 66};
    const double played[] = {60, 60, 66, 64, 66};
    const bool slower[] = {false, true, false, false, false};
    const bool passed[] = {true, false, true, false, true};
    const std::int64_t days[] = {19786, 19786, 19786, 19788, 19788};
    for (std::size_t i = 0; i < takes.size(); ++i) {
        takes[i].facts.day = days[i];
        takes[i].facts.drillName = "Ladder";
        takes[i].facts.plannedBpm = planned[i];
        takes[i].facts.playedBpm = played[i];
        takes[i].facts.slowerThanPlanned = slower[i];
        takes[i].facts.passed = passed[i];
    }
    const auto plan = planAgainstReality(takes);
    ASSERT_EQ(plan.days.size(), 2u);
    EXPECT_EQ(inWords(plan.days[0]),
              "2024-03-04, Ladder: 3 takes, 2 passed; planned 60 to 62 bpm, played 60 to 66 bpm; 1 slower "
              "than planned; 66 bpm held");
    EXPECT_EQ(plan.missedDays, std::vector<std::int64_t>{19787});
    EXPECT_EQ(inWords(plan), "practised on 2 of 3 days, fastest tempo held 66 bpm");
}

} // namespace
} // namespace valveladder
