// How sure a report is: that it follows what the sound shows, that what is unlikely is taken back, and that
// on a part that it was not fitted to reports are so about as often as they are said to be. Nothing here is a
// live player.
#include "Listening/WeighedReports.h"
#include "Support/CorpusRun.h"
#include "Support/KnownReports.h"

#include <gtest/gtest.h>

#include <cmath>
#include <iostream>

namespace valveladder {
namespace {

/// A second stroke that stands out, half of the note's time after the first.
ReportEvidence clearStroke() {
    ReportEvidence evidence;
    evidence.seconds = 0.15;
    evidence.askedSeconds = 0.3;
    evidence.periodicity = 0.97;
    evidence.struck = true;
    evidence.strokeLogOdds = 4.0;
    return evidence;
}

/// What may as well be the end of the note before.
ReportEvidence faintMoment() {
    ReportEvidence evidence = clearStroke();
    evidence.seconds = 0.03;
    evidence.levelDb = -15.0;
    evidence.periodicity = 0.5;
    evidence.offPitch = 0.45;
    evidence.struck = false;
    evidence.interval = 3.0;
    evidence.strokeLogOdds = -4.0;
    return evidence;
}

/// Both notes spoke twice, each with its extra sound.
Performance twoNotesSpokenTwice() {
    Performance heard;
    for (int i = 0; i < 2; ++i) {
        NoteResult note;
        note.index = i;
        note.outcome = Outcome::right;
        note.played = 58 + i;
        note.split = true;
        heard.notes.push_back(note);
        heard.extras.push_back({1.0 + i, 1.1 + i, 58 + i, i});
    }
    return heard;
}

/// Of reports that were told: how many, how many are so, and how many are said to be.
struct Told {
    int count = 0;
    int so = 0;
    double said = 0.0;
    double squaredError = 0.0;

    void add(double likelihood, bool isSo) {
        ++count;
        so += isSo ? 1 : 0;
        said += likelihood;
        squaredError += std::pow(likelihood - (isSo ? 1.0 : 0.0), 2.0);
    }
};

} // namespace

TEST(ReportLikelihood, FollowsHowClearTheSoundIs) {
    EXPECT_GT(likelihoodOf(WeighedAs::spoke, clearStroke()), 0.9);
    EXPECT_LT(likelihoodOf(WeighedAs::spoke, faintMoment()), 0.1);
    EXPECT_GT(likelihoodOf(LateEvidence{0.04, 0.01, 5.0}), likelihoodOf(LateEvidence{0.01, 0.15, 1.05}));
}

TEST(ReportLikelihood, IsFiniteWhateverTheEvidence) {
    const ReportEvidence nothing{0.0, 0.0, -1e9, 0.0, 0.0, false, 0.0, -1e9, 0.0};
    const ReportEvidence much{1e9, 1e-9, 1e9, 1.0, 0.5, true, 1e9, 1e9, 1e9};
    for (std::size_t kind = 0; kind < weighedKinds; ++kind)
        for (const ReportEvidence& evidence : {nothing, much}) {
            const double likelihood = likelihoodOf(static_cast<WeighedAs>(kind), evidence);
            EXPECT_GE(likelihood, 0.0);
            EXPECT_LE(likelihood, 1.0);
        }
}

TEST(ReportLikelihood, WhatIsUnlikelyIsTakenBackAndTheRestSaysHowSure) {
    Performance heard = twoNotesSpokenTwice();
    const std::vector<WeighedReport> reports{
        {{0, ReportKind::split}, std::nullopt, clearStroke(), 0.0},
        {{1, ReportKind::split}, std::nullopt, faintMoment(), 0.0},
    };
    judgeReports(heard, reports);
    EXPECT_TRUE(heard.notes[0].split);
    EXPECT_EQ(heard.notes[0].likelihood, reports[0].likelihood());
    EXPECT_FALSE(heard.notes[1].split);
    EXPECT_EQ(heard.notes[1].likelihood, std::nullopt);
    ASSERT_EQ(heard.extras.size(), 1U);
    EXPECT_EQ(heard.extras[0].nearIndex, 0);
    EXPECT_EQ(likelihoodOf(heard, {0, ReportKind::split}), reports[0].likelihood());
}

TEST(HeardSurely, ReportsAreSoAboutAsOftenAsTheyAreSaidToBe) {
    const auto known = testing::knownReports(testing::Part::later, testing::corpusSize(1, 6));
    Told told;
    Told sure;
    for (const testing::KnownReport& each : known) {
        const double likelihood = each.weighed.likelihood();
        if (likelihood < leastLikelihood)
            continue;
        told.add(likelihood, each.so);
        if (likelihood >= 0.9)
            sure.add(likelihood, each.so);
    }
    std::cout << known.size() << " reports weighed, told " << told.count << ", so " << told.so << " (said "
              << told.said << "); at least 90 % sure " << sure.count << ", so " << sure.so << "\n";
    ASSERT_GE(told.count, 200);
    EXPECT_NEAR(told.so, told.said, 0.06 * told.count);
    EXPECT_GE(sure.so, 0.9 * sure.count);
    const double share = static_cast<double>(told.so) / told.count;
    EXPECT_LT(told.squaredError / told.count, share * (1.0 - share)); // better than one figure for all
}

TEST(HeardSurely, LateFingersAreThoseAboutAsOftenAsTheyAreSaidToBe) {
    Told told;
    for (const testing::KnownLate& each :
         testing::knownLateFingers(7700000, testing::corpusSize(1, 8), testing::fullSize() ? 1U : 3U))
        if (const double likelihood = likelihoodOf(each.evidence); likelihood >= leastLateLikelihood)
            told.add(likelihood, each.so);
    std::cout << "late fingers told " << told.count << ", so " << told.so << " (said " << told.said << ")\n";
    ASSERT_GE(told.count, 150);
    EXPECT_NEAR(told.so, told.said, 0.06 * told.count);
}

} // namespace valveladder
