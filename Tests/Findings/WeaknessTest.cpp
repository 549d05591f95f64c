#include "Base/Units.h"
#include "Findings/EffectFit.h"
#include "Findings/Findings.h"
#include "Findings/TimingWeakness.h"
#include "Support/FindingsTrials.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace valveladder {
namespace {

using namespace simulated;

const Suspect threePressing{SuspectKind::press, 3, {}, {}, {}};

std::vector<TakeEvidence> fullTakes(Player& player, int count) {
    return practise(player, fullDrill(trialInstrument()), trialInstrument(), count);
}

TEST(Weakness, SameTakesGiveSameFindings) {
    Player player({{threePressing, 25.0}}, {}, 1);
    const auto takes = fullTakes(player, 3);
    EXPECT_EQ(findWeaknesses(takes).findings, findWeaknesses(takes).findings);
}

TEST(Weakness, OldTakesWeighLess) {
    EXPECT_DOUBLE_EQ(ageWeight(0, 0), 1.0);
    EXPECT_NEAR(ageWeight(0, static_cast<std::int64_t>(ageHalfLifeDays * msPerDay)), 0.5, 1e-12);
}

// Weak half a year ago, sound now: the age weights must keep the old weakness from being claimed as now.
TEST(Weakness, WhatWasWeakHalfAYearAgoIsNotClaimedNow) {
    Player weak({{threePressing, 40.0}}, {}, 2);
    Player sound({}, {}, 3);
    auto takes = fullTakes(weak, 4);
    for (auto& take : takes)
        take.facts.startedUtcMs -= static_cast<std::int64_t>(182.0 * msPerDay);
    auto newer = fullTakes(sound, 8);
    takes.insert(takes.end(), newer.begin(), newer.end());
    EXPECT_TRUE(findWeaknesses(takes).findings.empty());
}

TEST(Weakness, LateNotesAreFoundWithoutChangeovers) {
    Spread human;
    human.lateShare = 1.0;
    Player player({{threePressing, 40.0}}, human, 4);
    auto takes = fullTakes(player, 4);
    for (auto& take : takes)
        for (auto& change : take.changes)
            change.changeoverMs.reset();
    const auto found = findWeaknesses(takes).findings;
    ASSERT_FALSE(found.empty());
    EXPECT_EQ(found[0].complaint, Complaint::late);
    EXPECT_EQ(found[0].suspect, threePressing);
}

TEST(Weakness, ErrorsGatheredOnOneFingerAreFound) {
    Player player({}, {}, 5);
    auto takes = fullTakes(player, 6);
    std::mt19937_64 random(6);
    std::bernoulli_distribution slips(0.15);
    for (auto& take : takes)
        for (auto& change : take.changes)
            if (threePressing.involves(change) && slips(random))
                change.error = true;
    const auto found = findWeaknesses(takes).findings;
    ASSERT_EQ(found.size(), 1u);
    EXPECT_EQ(found[0].complaint, Complaint::wrong);
    EXPECT_EQ(found[0].suspect, threePressing);
    EXPECT_GT(found[0].effect.low, 1.0);
}

TEST(Weakness, UnevenFingerIsFound) {
    Player player({}, {}, 7);
    auto takes = fullTakes(player, 8);
    std::mt19937_64 random(8);
    std::normal_distribution<float> scatter(0.0F, 30.0F);
    for (auto& take : takes)
        for (auto& change : take.changes)
            if (threePressing.involves(change) && change.deviationMs)
                *change.deviationMs += scatter(random);
    const auto found = findWeaknesses(takes).findings;
    const auto uneven = std::find_if(found.begin(), found.end(),
                                     [](const auto& one) { return one.complaint == Complaint::uneven; });
    ASSERT_NE(uneven, found.end());
    EXPECT_EQ(uneven->suspect, threePressing);
    EXPECT_GT(uneven->effect.value, 5.0);
}

// A few absurd measures (a listener's slip) must not make or hide a finding.
TEST(Weakness, AbsurdMeasuresDoNotMakeFindings) {
    Player player({}, {}, 9);
    auto takes = fullTakes(player, 4);
    int number = 0;
    for (auto& take : takes)
        for (auto& change : take.changes)
            if (change.changeoverMs && ++number % 67 == 0)
                change.changeoverMs = 5000.0F;
    EXPECT_TRUE(findWeaknesses(takes).findings.empty());
}

// What a least-squares fit of the same columns gives on data without outliers.
TEST(Weakness, EffectOfPlantedFingerIsEstimatedInMs) {
    Spread calm;
    calm.effectSd = 0.0;
    Player player({{threePressing, 30.0}}, calm, 10);
    const auto found = findWeaknesses(fullTakes(player, 12)).findings;
    ASSERT_FALSE(found.empty());
    EXPECT_NEAR(found[0].effect.value, 30.0, 3.0);
    EXPECT_NEAR(found[0].others, calm.changeoverMs, 6.0);
    EXPECT_EQ(found[0].takes, 12);
}

TEST(Weakness, SpreadThatGrowsWithTheTimeIsTakenOnLogarithms) {
    Player player({}, {}, 11);
    auto takes = fullTakes(player, 6);
    EXPECT_EQ(likelierScale(observe(takes, Complaint::slow)), Scale::milliseconds);
    for (auto& take : takes)
        for (auto& change : take.changes)
            if (change.changeoverMs)
                change.changeoverMs = 70.0F * std::exp((*change.changeoverMs - 70.0F) / 30.0F);
    EXPECT_EQ(likelierScale(observe(takes, Complaint::slow)), Scale::logarithm);
}

TEST(Weakness, SharesOfTakesAddUpToOne) {
    Player player({{threePressing, 25.0}}, {}, 12);
    const auto takes = fullTakes(player, 5);
    const auto table = observe(takes, Complaint::slow);
    std::vector<double> y;
    for (const auto& observation : table.observations)
        y.push_back(observation.y);
    const EffectModel model = modelOf(table, y);
    const EffectFit fit(model, columnsOf(table.kinds, {threePressing}), y);
    double sum = 0.0;
    for (const double share : fit.takeShares(0))
        sum += share;
    EXPECT_NEAR(sum, 1.0, 1e-9);
}

TEST(Weakness, PlayersAndInventedTakesStayApartAndRepeatsCountOnce) {
    Player player({}, {}, 13);
    auto takes = practise(player, fullDrill(trialInstrument()), trialInstrument(), 3);
    takes[1].facts.player = "Another";
    takes[2].facts.invented = true;
    takes.push_back(takes[0]);
    const auto groups = apart(takes);
    ASSERT_EQ(groups.size(), 3u);
    EXPECT_EQ(groups.at({"Invented player", trialInstrument().id}).size(), 1u);
    EXPECT_EQ(groups.at({"Another", trialInstrument().id}).size(), 1u);
    EXPECT_EQ(groups.at({"Invented player (invented)", trialInstrument().id}).size(), 1u);
}

TEST(Weakness, StrangeIndicesInAPerformanceAreLeftOut) {
    const auto drill = fullDrill(trialInstrument());
    const auto score = buildScore(drill, trialInstrument(), 60.0);
    ASSERT_TRUE(score.ok());
    Performance strange;
    strange.notes.push_back({});
    strange.notes.back().index = 1000000;
    strange.changes.push_back({});
    strange.changes.back().toIndex = -5;
    strange.segments.push_back({});
    strange.segments.back().span = 999;
    strange.segments.back().played = true;
    const auto evidence = evidenceOf({}, drill, trialInstrument(), score.value(), strange);
    EXPECT_TRUE(evidence.changes.empty());
    EXPECT_TRUE(evidence.segments.empty());
}

} // namespace
} // namespace valveladder
