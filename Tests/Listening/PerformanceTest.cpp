#include "Listening/Performance.h"

#include <gtest/gtest.h>

namespace valveladder {

namespace {

SegmentResult segment(bool played, bool clean) {
    SegmentResult result;
    result.played = played;
    result.clean = clean;
    return result;
}

SegmentResult withSpread(double percent, std::optional<double> target = std::nullopt) {
    SegmentResult result = segment(true, true);
    result.ioiSpreadPercent = Estimate{percent, percent, percent, 6};
    result.targetRatio = target;
    return result;
}

} // namespace

TEST(Performance, CountsNotesByOutcome) {
    Performance performance;
    for (const Outcome outcome : {Outcome::right, Outcome::wrong, Outcome::right, Outcome::missed}) {
        NoteResult note;
        note.outcome = outcome;
        performance.notes.push_back(note);
    }
    EXPECT_EQ(performance.count(Outcome::right), 2);
    EXPECT_EQ(performance.count(Outcome::wrong), 1);
    EXPECT_EQ(performance.count(Outcome::missed), 1);
}

TEST(Performance, IsCleanOnlyWhenEverySegmentIsPlayedAndClean) {
    Performance performance;
    EXPECT_FALSE(performance.clean());
    performance.segments = {segment(true, true), segment(true, true)};
    EXPECT_TRUE(performance.clean());
    performance.segments.push_back(segment(true, false));
    EXPECT_FALSE(performance.clean());
    performance.segments.back() = segment(false, true);
    EXPECT_FALSE(performance.clean());
}

TEST(Performance, WorstIoiSpreadIsThatOfEvenSegments) {
    Performance performance;
    EXPECT_FALSE(performance.worstIoiSpreadPercent());
    performance.segments = {withSpread(20.0, 3.0), segment(true, true)};
    EXPECT_FALSE(performance.worstIoiSpreadPercent());
    performance.segments.push_back(withSpread(2.0));
    performance.segments.push_back(withSpread(5.0));
    performance.segments.push_back(withSpread(1.0));
    EXPECT_EQ(performance.worstIoiSpreadPercent(), 5.0);
}

} // namespace valveladder
