#include "Words/FindingWords.h"
#include "Support/FindingsTrials.h"
#include "Words/FindingsInWords.h"
#include "Words/SuspectWords.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <regex>

namespace valveladder {
namespace {

using namespace simulated;

const Suspect threePressing{SuspectKind::press, 3, {}, {}, {}};

Combination valves(const char* text) {
    return *Combination::parse(text);
}

TEST(FindingsWording, FindingIsSaidWithFigureIntervalAndN) {
    Finding finding;
    finding.suspect = {SuspectKind::change, 1, {valves("1-2"), valves("1-2-3")}, {}, {}};
    finding.effect = {38.2, 21.0, 55.4, 112};
    finding.takes = 14;
    EXPECT_EQ(inWords(finding), "Your change 3 pressing after 1-2 comes 38 ms slower than the rest. Sure: 21 "
                                "to 55 ms (112 changes in "
                                "14 takes).");
}

TEST(FindingsWording, AFingerIsCalledByItsName) {
    Finding finding;
    finding.complaint = Complaint::late;
    finding.suspect = threePressing;
    finding.effect = {25.0, 18.0, 31.0, 112};
    finding.takes = 14;
    EXPECT_EQ(inWords(finding),
              "Your third finger goes down 25 ms late. Sure: 18 to 31 ms (112 changes in 14 takes).");
    finding.suspect = {SuspectKind::release, 4, {}, {}, {}};
    EXPECT_EQ(inWords(finding, true).find("Your thumb comes up 25 ms late"), 0u);
}

TEST(FindingsWording, OneCauseIsSaidOnceWithItsMeasures) {
    Finding finding;
    finding.suspect = threePressing;
    finding.effect = {25.0, 18.0, 31.0, 112};
    finding.takes = 2;
    Finding late = finding;
    late.complaint = Complaint::late;
    finding.alsoShownBy = {late};
    EXPECT_NE(inWords(finding).find("The same shows here: your third finger goes down 25 ms late. Sure: 18 "
                                    "to 31 ms (112 changes in 2 takes)."),
              std::string::npos);
}

TEST(FindingsWording, WhatRestsOnAllTakesSaysSo) {
    CarryOver carried;
    carried.slowerPercent = {12.0, 3.0, 20.0, 40};
    EXPECT_EQ(inWords(carried).find("Relaxed against firm over all takes: changeovers +12 %"), 0u);
    EXPECT_EQ(inWords(carried, "rung F#3-C4")
                  .find("Relaxed against firm, rung F#3-C4, over all takes: changeovers +12 %"),
              0u);
    Tiring tiring;
    tiring.perTenMinutes = {1.2, 0.4, 2.0, 14};
    EXPECT_TRUE(inWords(tiring).ends_with(", over 14 takes")) << inWords(tiring);
    Weaknesses few;
    few.changes = 1;
    few.least = 24;
    EXPECT_EQ(inWords(few).front(),
              "not enough data yet: 1 change played in all takes so far, at least 24 are needed");
    few.enough = true;
    EXPECT_EQ(inWords(few).front().find("changeovers were not measured often enough in all takes so far (0 "
                                        "times)"),
              0u);
}

TEST(FindingsWording, RivalsAreNamed) {
    Finding finding;
    finding.suspect = threePressing;
    finding.effect = {20.0, 12.0, 28.0, 30};
    finding.takes = 1;
    finding.rivals = {{SuspectKind::release, 1, {}, {}, {}}};
    EXPECT_NE(inWords(finding).find("30 changes in 1 take). Nearly as likely: 1 releasing."),
              std::string::npos);
}

TEST(FindingsWording, ErrorsAreSaidAsOdds) {
    Finding finding;
    finding.complaint = Complaint::wrong;
    finding.suspect = threePressing;
    finding.effect = {3.1, 1.6, 6.0, 200};
    finding.takes = 9;
    EXPECT_EQ(inWords(finding), "Your third finger goes down with more wrong, missed or split notes than the "
                                "rest: their odds are 3.1 "
                                "times as high. Sure: 1.6 to 6.0 times (200 changes in 9 takes).");
}

TEST(FindingsWording, SuspectsHaveNamesThatPlayersUse) {
    const Suspect both{SuspectKind::change, 1, {valves("1-2"), valves("2-3")}, {}, {}};
    EXPECT_EQ(inWords(both), "1-2 to 2-3 (1 releasing, 3 pressing)");
    EXPECT_EQ(inWords(Suspect{SuspectKind::release, 2, {}, {}, {}}), "2 releasing");
    EXPECT_EQ(inWords(Suspect{SuspectKind::fourthValve, 4, {}, {}, {}}), "the fourth valve");
    EXPECT_EQ(inWords(Suspect{SuspectKind::press, 4, {}, {}, {}}, true), "T pressing");
    EXPECT_EQ(inWords(Suspect{SuspectKind::alternate, 1, {}, valves("3"), valves("1-2")}),
              "3 in place of 1-2");
}

TEST(FindingsWording, EveryClaimHoldsFigureIntervalAndN) {
    const std::regex figure(R"([0-9]+(\.[0-9])? ?(ms|%|times))");
    const std::regex interval("([Ss]ure:|90 % interval) [-+]?[0-9.]+ to [-+]?[0-9.]+");
    const std::regex n("[0-9]+ (change|take|day|pair)s?");
    Spread human;
    human.tiringMsPerMinute = 4.0;
    int claims = 0;
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
        Player player({{threePressing, 40.0}}, human, seed);
        const auto takes = practise(player, fullDrill(trialInstrument()), trialInstrument(), 24);
        for (const auto& claim :
             inWords(findingsIn(takes, trialInstrument(), 66.0), trialInstrument()).claims) {
            ++claims;
            EXPECT_TRUE(std::regex_search(claim, figure)) << claim;
            EXPECT_TRUE(std::regex_search(claim, interval)) << claim;
            EXPECT_TRUE(std::regex_search(claim, n)) << claim;
        }
    }
    EXPECT_GE(claims, 6);
}

TEST(FindingsWording, NothingIsClaimedFromTooFewChanges) {
    Player player({{threePressing, 200.0}}, {}, 3);
    Drill cell = defaultDrill(trialInstrument());
    cell.pattern = CellPattern{{{60, 57, 60, 55}}};
    cell.segments = {defaultSegments().front()};
    const auto takes = practise(player, cell, trialInstrument(), 2);
    const auto report = inWords(findingsIn(takes, trialInstrument(), 60.0), trialInstrument());
    EXPECT_TRUE(report.claims.empty());
    ASSERT_FALSE(report.remarks.empty());
    EXPECT_NE(report.remarks.front().find("not enough data"), std::string::npos);
}

TEST(FindingsWording, NothingStandsOutIsSaidWhereEnoughWasPlayedAndNothingIsClaimed) {
    FindingsReport report;
    report.weaknesses.enough = true;
    EXPECT_NE(inWords(report, trialInstrument()).nothing, "");
    report.trends.emplace_back();
    const auto words = inWords(report, trialInstrument());
    EXPECT_EQ(words.nothing, "") << "a trend stands out";
    EXPECT_EQ(words.claims, words.trends);
    EXPECT_TRUE(words.standsOut.empty());
    EXPECT_EQ(inWords(FindingsReport{}, trialInstrument()).nothing, "") << "too little to say so";
    FindingsReport untimed;
    untimed.weaknesses.enough = true;
    untimed.weaknesses.least = 24;
    EXPECT_EQ(inWords(untimed, trialInstrument()).nothing, "") << "slow changes could not stand out";
    untimed.weaknesses.changeovers = 24;
    EXPECT_NE(inWords(untimed, trialInstrument()).nothing, "");
}

TEST(FindingsWording, EmptyLogIsSaidToBeTooLittle) {
    const auto report = inWords(findingsIn({}, trialInstrument(), 60.0), trialInstrument());
    EXPECT_TRUE(report.claims.empty());
    ASSERT_FALSE(report.remarks.empty());
    EXPECT_NE(report.remarks.front().find("not enough data yet: 0 changes"), std::string::npos);
}

TEST(FindingsWording, MissingChangeoversAreSaid) {
    Player player({}, {}, 4);
    auto takes = practise(player, fullDrill(trialInstrument()), trialInstrument(), 2);
    for (auto& take : takes)
        for (auto& change : take.changes)
            change.changeoverMs.reset();
    const auto remarks = inWords(findingsIn(takes, trialInstrument(), 60.0), trialInstrument()).remarks;
    ASSERT_FALSE(remarks.empty());
    EXPECT_NE(remarks.front().find("changeovers were not measured"), std::string::npos);
}

TEST(FindingsWording, NoFindingSpeaksOfOtherPeople) {
    Player player({{threePressing, 40.0}}, {}, 5);
    const auto takes = practise(player, fullDrill(trialInstrument()), trialInstrument(), 4);
    const auto claims = inWords(findingsIn(takes, trialInstrument(), 66.0), trialInstrument()).claims;
    ASSERT_FALSE(claims.empty());
    EXPECT_NE(claims.front().find("than the rest"), std::string::npos);
}

} // namespace
} // namespace valveladder
