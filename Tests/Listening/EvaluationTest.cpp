#include "Listening/Evaluation.h"

#include <gtest/gtest.h>

namespace valveladder {

// Tolerances and their inclusive comparison: mir_eval.transcription.match_notes with offset_ratio=None.
TEST(Evaluation, NotesMatchUpToFiftyMillisecondsAndFiftyCentsInclusive) {
    const std::vector<NoteEvent> reference{{1.0, 60.0}};
    EXPECT_EQ(matchedPairs(reference, {{1.05, 60.0}}).size(), 1u);
    EXPECT_EQ(matchedPairs(reference, {{0.95, 60.5}}).size(), 1u);
    EXPECT_EQ(matchedPairs(reference, {{1.0502, 60.0}}).size(), 0u);
    EXPECT_EQ(matchedPairs(reference, {{1.0, 60.51}}).size(), 0u);
}

TEST(Evaluation, MatchingIsOneToOneAndAsLargeAsCanBe) {
    // Greedy from the left would give 1.03 to the first and leave the second alone.
    const std::vector<NoteEvent> reference{{1.0, 60.0}, {1.06, 60.0}};
    const std::vector<NoteEvent> estimated{{1.03, 60.0}, {0.96, 60.0}};
    EXPECT_EQ(matchedPairs(reference, estimated).size(), 2u);
    EXPECT_EQ(matchedPairs(reference, {{1.03, 60.0}}).size(), 1u);
    const auto pairs = matchedPairs(reference, estimated);
    ASSERT_EQ(pairs.size(), 2u);
    EXPECT_EQ(pairs[0], std::pair(0, 1));
    EXPECT_EQ(pairs[1], std::pair(1, 0));
}

TEST(Evaluation, FIsTheHarmonicMeanOfPrecisionAndRecall) {
    const MatchCounts counts{4, 2, 2}; // precision 1, recall 1/2
    EXPECT_DOUBLE_EQ(counts.f(), 2.0 / 3.0);
    EXPECT_DOUBLE_EQ((MatchCounts{0, 0, 0}.f()), 1.0);
    EXPECT_DOUBLE_EQ((MatchCounts{3, 0, 0}.f()), 0.0);
}

TEST(Evaluation, WhatWasHeardOtherwiseThanAnnotatedIsAFalseReport) {
    Performance heard;
    NoteResult right;
    right.outcome = Outcome::right;
    right.played = 60;
    right.onsetSeconds = 1.01;
    NoteResult missed;
    missed.index = 1;
    heard.notes = {right, missed};
    heard.extras = {{3.0, 3.1, 64, 1}};
    const Tally tally = tallyAgainstAnnotations({{1.0, 60.0}, {2.0, 62.0}}, heard, 0.0);
    EXPECT_EQ(tally.falseReports, 2);
    EXPECT_EQ(tally.notes.matched, 1);
    EXPECT_EQ(tally.notes.estimated, 2);
    ASSERT_EQ(tally.onsetErrorsMs.size(), 1u);
    EXPECT_NEAR(tally.onsetErrorsMs[0], 10.0, 1e-9);
}

} // namespace valveladder
