// What is heard in the test half of the rendered takes, against the truth: three sources, four instruments,
// detached, re-struck slurs and bent slurs; small: one take of each or more, full: 24 at three tempos. The
// thresholds of the listener were set on the other half. Nothing here is a live player.
#include "Support/CorpusRun.h"

#include <gtest/gtest.h>

#include <iostream>

namespace valveladder {
namespace {

using testing::Condition;
using testing::CorpusResult;
using testing::corpusSize;
using testing::Part;

CorpusResult heardIn(Condition condition, Part part = Part::test, int small = 1) {
    const int full = part == Part::test ? 24 : 6;
    CorpusResult heard = testing::runCorpus(part, condition, corpusSize(small, full));
    std::cout << table(heard, nameOf(condition)) << "\n";
    for (const std::string& story : heard.all.stories)
        if (story.find("FALSE") != story.npos || story.find("NOT FOUND") != story.npos)
            std::cout << story << "\n";
    return heard;
}

double lowestF(const CorpusResult& heard) {
    double lowest = 1.0;
    for (const auto& [name, tally] : heard.byGroup)
        lowest = std::min(lowest, tally.notes.f());
    return lowest;
}

double falseAllowed() {
    return testing::fullSize() ? 1.0 : 1.5;
}

bool atLeast(const Tally::Fault& fault, double share) {
    return fault.found >= share * fault.planted;
}

// Promised are 95 % of wrong and missed notes and breaths, 90 % of splits and 1 false report in 200 notes.
// All but the splits hold at the full size; Tests/FIGURES.md says by how much these fall short. At the small
// size, of two or six takes a combination, a fault of a kind is 1 to 3 %, and a false split counts twice.
// `mostFalse` in 200 notes.
void expectFaultsFound(const Tally& all, double leastSplits, double mostFalse) {
    ASSERT_GT(all.wrong.planted + all.missed.planted + all.breath.planted, 80);
    const double share = testing::fullSize() ? 0.95 : 0.90;
    EXPECT_TRUE(atLeast(all.wrong, 0.95)) << all.wrong.found << " of " << all.wrong.planted;
    EXPECT_TRUE(atLeast(all.missed, share)) << all.missed.found << " of " << all.missed.planted;
    EXPECT_TRUE(atLeast(all.breath, share)) << all.breath.found << " of " << all.breath.planted;
    EXPECT_TRUE(atLeast(all.split, leastSplits)) << all.split.found << " of " << all.split.planted;
    EXPECT_LE(200.0 * all.falseReports, mostFalse * all.notes.reference);
}

} // namespace

TEST(SoundNotes, CleanTakesAreHeardNoteForNote) {
    const CorpusResult heard = heardIn(Condition::clean);
    ASSERT_GT(heard.all.notes.reference, 600);
    EXPECT_GE(heard.all.notes.f(), 0.99);
    EXPECT_GE(lowestF(heard), 0.96);
}

TEST(SoundNotes, FaultyNoisyTakesAreHeardNoteForNote) {
    const CorpusResult heard = heardIn(Condition::faulty);
    ASSERT_GT(heard.all.notes.reference, 600);
    EXPECT_GE(heard.all.notes.f(), 0.98);
    EXPECT_GE(lowestF(heard), 0.96);
}

TEST(SoundOnsets, OfCleanTakesAgreeWithTheAudibleOnset) {
    const CorpusResult heard = heardIn(Condition::clean);
    const auto errors = magnitudesOf(heard.all.onsetErrorsMs);
    ASSERT_GT(errors.size(), 600u);
    EXPECT_LE(quantile(errors, 0.5), 5.0);
    EXPECT_LE(quantile(errors, 0.95), 20.0);
}

TEST(SoundOnsets, OfFaultyNoisyTakesAgreeWithTheAudibleOnset) {
    const auto errors = magnitudesOf(heardIn(Condition::faulty).all.onsetErrorsMs);
    ASSERT_GT(errors.size(), 550u);
    EXPECT_LE(quantile(errors, 0.5), 5.0);
    EXPECT_LE(quantile(errors, 0.95), 20.0);
}

TEST(SoundFaults, AreFoundInTakesThatNothingWasSetOn) {
    expectFaultsFound(heardIn(Condition::faulty, Part::test, 6).all, testing::fullSize() ? 0.80 : 0.70,
                      falseAllowed());
}

// Of splits with both articulations of 60 ms or more 90 % are promised. In the takes above the fonts let the
// first articulation die away under the second; here it ends in the silence that the plan has between them.
TEST(SoundFaults, SecondArticulationsAfterASilenceAreFoundInTakesThatNothingWasSetOn) {
    const Tally all = heardIn(Condition::parted, Part::test, 6).all;
    expectFaultsFound(all, 0.80, falseAllowed());
    ASSERT_GT(all.clearSplit.planted, 40);
    const double share = testing::fullSize() ? 0.90 : 0.85; // one in 57 is 2 % at the small size
    EXPECT_TRUE(atLeast(all.clearSplit, share)) << all.clearSplit.found << " of " << all.clearSplit.planted;
}

// A guard on the third test part.
TEST(SoundFaults, AreFoundInTakesOfTheThirdTestPart) {
    expectFaultsFound(heardIn(Condition::faulty, Part::third, 2).all, 0.70, falseAllowed());
}

// A guard on the second test part.
TEST(SoundFaults, AreFoundInTakesThatNoRuleWasSetOn) {
    expectFaultsFound(heardIn(Condition::faulty, Part::tallied, 2).all, 0.80, 1.0);
}

// A guard on the first test part.
TEST(SoundFaults, WrongAndMissedNotesAreFoundMostOthersTooAndLittleElseReported) {
    const CorpusResult heard = heardIn(Condition::faulty, Part::seen);
    const Tally& all = heard.all;
    ASSERT_GT(all.wrong.planted + all.missed.planted + all.breath.planted, 40);
    EXPECT_TRUE(atLeast(all.wrong, 0.95)) << all.wrong.found << " of " << all.wrong.planted;
    EXPECT_TRUE(atLeast(all.missed, 0.95)) << all.missed.found << " of " << all.missed.planted;
    EXPECT_TRUE(atLeast(all.breath, 0.75)) << all.breath.found << " of " << all.breath.planted;
    EXPECT_TRUE(atLeast(all.split, 0.80)) << all.split.found << " of " << all.split.planted;
    EXPECT_LE(200.0 * all.falseReports, 3.0 * all.notes.reference);
}

} // namespace valveladder
