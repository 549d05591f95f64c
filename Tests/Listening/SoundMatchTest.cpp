// What is taken for a note and what for how a note speaks, where only the score can tell.
#include "Listening/SoundMatch.h"
#include "Support/SoundPlan.h"

#include <gtest/gtest.h>

namespace valveladder {
namespace {

constexpr double bpm = 140.0;

/// Written F#3, G3, F#3 in this rhythm; sounds E2, F2, E2.
Score threeNotes(const std::vector<int>& rhythm) {
    testing::RunShape shape;
    shape.foot = 54;
    shape.top = 55;
    shape.transposition = -14;
    shape.rhythms = {rhythm};
    return testing::chromaticRun(shape, bpm);
}

/// At 140 bpm the short notes last 107 ms.
Score shortLong() {
    return threeNotes({1, 3});
}

/// And these 214 ms.
Score evenRun() {
    return threeNotes({1});
}

double secondsOf(const Score& score, int i) {
    return TempoMap(bpm).secondsAt(static_cast<double>(score.notes[static_cast<std::size_t>(i)].onset) /
                                   ticksPerQuarter);
}

HeardNote heard(double from, double to, double midi, double level, HeardNote::Start start) {
    HeardNote note;
    note.onset = from;
    note.offset = to;
    note.midi = midi;
    note.level = level;
    note.periodicity = 0.9;
    note.start = start;
    note.settledSeconds = to - from;
    return note;
}

/// A 50 ms piece of one pitch, struck, that goes over into F2; then the last note.
std::vector<HeardNote> shortThenLong(const Score& score, double at, double midi) {
    const double last = secondsOf(score, 2);
    return {heard(at, at + 0.05, midi, 0.05, HeardNote::Start::attack),
            heard(at + 0.05, last, 41.0, 0.08, HeardNote::Start::glide),
            heard(last, last + 0.1, 40.0, 0.08, HeardNote::Start::glide)};
}

SoundMatched match(const std::vector<HeardNote>& notes, const Score& score) {
    return matchSound(keepPlausible(notes, score), score, TempoMap(bpm), {}, 0.0);
}

} // namespace

TEST(SoundMatch, AShortStruckNoteThatTheScoreAsksForIsNoScrapOfTheNext) {
    const Score score = shortLong();
    const double at = secondsOf(score, 0);
    const Performance heardAs = match(shortThenLong(score, at, 40.0), score).match.performance;
    EXPECT_EQ(heardAs.notes[0].outcome, Outcome::right);
    EXPECT_EQ(heardAs.notes[1].outcome, Outcome::right);
    ASSERT_TRUE(heardAs.notes[1].onsetSeconds);
    EXPECT_NEAR(*heardAs.notes[1].onsetSeconds, at + 0.05, 1e-9);
    EXPECT_TRUE(heardAs.extras.empty());
}

TEST(SoundMatch, TheSameScrapBeforeANoteThatIsNotPrecededByOneIsHowThatSpeaks) {
    const Score score = shortLong();
    const double at = secondsOf(score, 1); // the first note was left out
    const Performance heardAs = match(shortThenLong(score, at, 39.45), score).match.performance;
    EXPECT_EQ(heardAs.notes[0].outcome, Outcome::missed);
    EXPECT_EQ(heardAs.notes[1].outcome, Outcome::right);
    ASSERT_TRUE(heardAs.notes[1].onsetSeconds);
    EXPECT_NEAR(*heardAs.notes[1].onsetSeconds, at, 1e-9);
    EXPECT_TRUE(heardAs.extras.empty());
}

TEST(SoundMatch, ADyingPitchThatIsHeardAgainAsTheNextNoteSpeaksIsNoSecondArticulation) {
    const Score score = shortLong();
    const double second = secondsOf(score, 1);
    std::vector<HeardNote> notes{
        heard(secondsOf(score, 0), second - 0.06, 40.0, 0.09, HeardNote::Start::attack),
        heard(second, second + 0.04, 40.0, 0.03, HeardNote::Start::rearticulated),
        heard(second + 0.04, second + 0.3, 41.0, 0.09, HeardNote::Start::attack)};
    notes[1].again = {5.0, 0.95, 0.06, 0.0};
    const Performance heardAs = match(notes, score).match.performance;
    EXPECT_FALSE(heardAs.notes[0].split);
    EXPECT_EQ(heardAs.notes[1].outcome, Outcome::right);
    EXPECT_NEAR(heardAs.notes[1].onsetSeconds.value_or(0.0), second, 1e-9);
    EXPECT_TRUE(heardAs.extras.empty());
}

namespace {

/// Even eighths E2, F2, E2 bent into each other; the second note is struck twice,
/// `silence` between the articulations.
std::vector<HeardNote> struckTwice(const Score& score, double silence) {
    const double second = secondsOf(score, 1);
    const double third = secondsOf(score, 2);
    std::vector<HeardNote> notes{heard(secondsOf(score, 0), second, 40.0, 0.08, HeardNote::Start::attack),
                                 heard(second, second + 0.07, 41.0, 0.08, HeardNote::Start::glide),
                                 heard(second + 0.07 + silence, third, 41.05, 0.08, HeardNote::Start::attack),
                                 heard(third, third + 0.2, 40.0, 0.08, HeardNote::Start::glide)};
    notes[3].changeoverMs = 30.0;
    return notes;
}

} // namespace

TEST(SoundMatch, ANoteStruckAgainAfterAMomentOfSilenceIsSplit) {
    const Score score = evenRun();
    const Performance heardAs = match(struckTwice(score, 0.03), score).match.performance;
    EXPECT_EQ(heardAs.count(Outcome::right), 3);
    EXPECT_FALSE(heardAs.notes[0].split);
    EXPECT_TRUE(heardAs.notes[1].split);
    EXPECT_FALSE(heardAs.notes[2].split);
    ASSERT_EQ(heardAs.extras.size(), 1u);
    EXPECT_EQ(heardAs.extras[0].nearIndex, 1);
    // The change into the next note goes out from the second articulation.
    EXPECT_DOUBLE_EQ(heardAs.changes.at(1).changeoverMs.value_or(0.0), 30.0);
}

TEST(SoundMatch, ANoteRepeatedAfterABreathIsExtraAndNotSplit) {
    const Score score = evenRun();
    const Performance heardAs =
        match(struckTwice(score, breathGapMs / 1000.0 + 0.02), score).match.performance;
    EXPECT_EQ(heardAs.count(Outcome::right), 3);
    EXPECT_FALSE(heardAs.notes[1].split);
    EXPECT_EQ(heardAs.extras.size(), 1u);
}

TEST(SoundMatch, AFirstArticulationTooEarlyForTheNoteThatFollowsOnItsPitchSplitsThatNote) {
    const Score score = evenRun();
    const double second = secondsOf(score, 1);
    std::vector<HeardNote> notes = struckTwice(score, 0.03);
    notes[0].offset = notes[1].onset = second - 0.12;
    notes[1].offset = second - 0.03;
    notes[2].onset = second;
    const Performance heardAs = match(notes, score).match.performance;
    EXPECT_EQ(heardAs.count(Outcome::right), 3);
    EXPECT_NEAR(heardAs.notes[1].onsetSeconds.value_or(0.0), second, 1e-9);
    EXPECT_TRUE(heardAs.notes[1].split);
    EXPECT_EQ(heardAs.extras.at(0).nearIndex, 1);
}

namespace {

/// E2, then F2, of whose first `headSeconds` the sound makes an articulation of its own.
std::vector<HeardNote> withHead(const Score& score, double headSeconds) {
    const double second = secondsOf(score, 1);
    std::vector<HeardNote> notes{
        heard(secondsOf(score, 0), second, 40.0, 0.08, HeardNote::Start::attack),
        heard(second, second + headSeconds, 41.0, 0.08, HeardNote::Start::glide),
        heard(second + headSeconds, second + 0.2, 41.0, 0.08, HeardNote::Start::rearticulated)};
    notes[1].changeoverMs = 30.0;
    return notes;
}

} // namespace

TEST(SoundMatch, ATonesHeadThatIsTooShortToBeANoteIsItsBeginning) {
    const Score score = evenRun();
    const auto kept = keepPlausible(withHead(score, 0.02), score);
    ASSERT_EQ(kept.size(), 2u);
    EXPECT_FALSE(kept[0].passing);
    EXPECT_EQ(kept[1].start, HeardNote::Start::glide);
    EXPECT_DOUBLE_EQ(kept[1].onset, secondsOf(score, 1));
    EXPECT_DOUBLE_EQ(kept[1].changeoverMs.value_or(0.0), 30.0);
}

TEST(SoundMatch, ATonesHeadThatIsTooSoftToBeANoteLeavesItsOnsetToTheRest) {
    const Score score = evenRun();
    std::vector<HeardNote> notes = withHead(score, 0.05);
    notes[1].level = 0.001;
    const auto kept = keepPlausible(notes, score);
    ASSERT_EQ(kept.size(), 2u);
    EXPECT_FALSE(kept[0].passing);
    EXPECT_EQ(kept[1].start, HeardNote::Start::glide);
    EXPECT_DOUBLE_EQ(kept[1].onset, secondsOf(score, 1) + 0.05);
}

TEST(SoundMatch, ANoteThatABlurIsCutFromKeepsHowItBegan) {
    const Score score = evenRun();
    std::vector<HeardNote> notes = withHead(score, 0.05);
    notes[1].midi = 40.4;
    notes[1].spoke = HeardNote::Spoke{0.6, 0.05};
    notes[1].ifPassed = HeardNote::Beginning{secondsOf(score, 1) - 0.01, HeardNote::Start::glide, 40.0};
    const auto kept = keepPlausible(notes, score);
    ASSERT_EQ(kept.size(), 2u);
    ASSERT_TRUE(kept[1].ifPassed);
    EXPECT_DOUBLE_EQ(kept[1].ifPassed->changeoverMs.value_or(0.0), 40.0);
    EXPECT_TRUE(kept[1].spoke);
}

} // namespace valveladder
