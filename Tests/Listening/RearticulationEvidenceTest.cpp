// Second articulations within a tone, weighed against the other tones of the take.
#include "Listening/RearticulationEvidence.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace valveladder {
namespace {

constexpr double toneSeconds = 0.3;
constexpr double dipAt = 0.12;
constexpr double commonDipDb = 6.0; // of a possible articulation
constexpr double borderOdds = -0.5; // SoundMatch counts an articulation from here

/// A steady tone at -20 dB that may dip by `dipDb` for 20 ms.
HeardNote tone(double onset, double midi, double dipDb = 0.0) {
    HeardNote note;
    note.onset = onset;
    note.offset = onset + toneSeconds;
    note.midi = midi;
    note.level = 0.1;
    note.periodicity = 0.9;
    for (double t = 0.0; t < toneSeconds; t += HeardNote::shapeStep) {
        const double db = -20.0 - (t >= dipAt && t < dipAt + 0.02 ? dipDb : 0.0);
        note.shape.push_back(static_cast<std::int8_t>(std::lround(db / HeardNote::shapeDb)));
    }
    return note;
}

HeardNote articulationWithin(HeardNote& first, double weight, double sameness = 0.9) {
    HeardNote again = first;
    again.shape.clear();
    again.start = HeardNote::Start::rearticulated;
    again.onset = first.onset + dipAt + 0.02;
    again.again = {weight, sameness, commonDipDb, dipAt + 0.01, 0.0};
    first.offset = first.onset + dipAt;
    return again;
}

double upAndDown(int i) {
    return 50.0 + i % 3;
}

/// `count` tones; those that `dips` names dip and hold a possible articulation.
template <typename Dips, typename Pitch = double (*)(int)>
std::vector<HeardNote> take(int count, Dips dips, Pitch pitch = upAndDown) {
    std::vector<HeardNote> notes;
    for (int i = 0; i < count; ++i) {
        HeardNote note = tone(0.4 * i, pitch(i), dips(i) ? 8.0 : 0.0);
        if (!dips(i)) {
            notes.push_back(note);
            continue;
        }
        const HeardNote again = articulationWithin(note, 1.6);
        notes.push_back(note);
        notes.push_back(again);
    }
    weighRearticulations(notes);
    return notes;
}

std::vector<double> oddsIn(const std::vector<HeardNote>& notes) {
    std::vector<double> odds;
    for (const HeardNote& note : notes)
        if (note.start == HeardNote::Start::rearticulated)
            odds.push_back(note.again.logOdds);
    return odds;
}

} // namespace

TEST(RearticulationEvidence, ADipInOneToneOfTheTakeIsAnArticulation) {
    const auto odds = oddsIn(take(24, [](int i) { return i == 9; }));
    ASSERT_EQ(odds.size(), 1u);
    EXPECT_GT(odds.front(), borderOdds);
}

TEST(RearticulationEvidence, TheSameDipInEveryToneIsHowThisInstrumentSpeaks) {
    const auto odds = oddsIn(take(24, [](int) { return true; }));
    ASSERT_EQ(odds.size(), 24u);
    for (const double o : odds)
        EXPECT_LT(o, borderOdds);
}

// As where the echoes of a room meet each new onset of one pitch, and of no other.
TEST(RearticulationEvidence, ADipThatEveryToneOfOnePitchHasIsNoArticulation) {
    const auto dips = [](int i) { return i % 10 == 3; };
    const auto odds = oddsIn(take(40, dips, [&](int i) { return dips(i) ? 52.0 : 50.0 + i % 2; }));
    ASSERT_EQ(odds.size(), 4u);
    for (const double o : odds)
        EXPECT_LT(o, borderOdds);
}

TEST(RearticulationEvidence, WhatDistantPitchesDoExcusesNoDip) {
    std::vector<HeardNote> notes;
    for (int i = 0; i < 24; ++i)
        notes.push_back(tone(0.4 * i, i % 2 == 0 ? 50.0 : 60.0, i % 2 == 0 ? 0.0 : 8.0));
    HeardNote dipping = tone(9.6, 50.0, 8.0);
    const HeardNote again = articulationWithin(dipping, 1.6);
    notes.push_back(dipping);
    notes.push_back(again);
    auto near = notes;
    near.back().midi = near[near.size() - 2].midi = 60.0;
    weighRearticulations(notes);
    weighRearticulations(near);
    EXPECT_GT(notes.back().again.logOdds, near.back().again.logOdds + 1.0);
}

TEST(RearticulationEvidence, WithTooFewTonesALevelIsTakenToStayAsItIs) {
    const auto odds = oddsIn(take(2, [](int i) { return i == 1; }));
    ASSERT_EQ(odds.size(), 1u);
    EXPECT_TRUE(std::isfinite(odds.front()));
    EXPECT_GT(odds.front(), borderOdds);
}

TEST(RearticulationEvidence, TonesWithoutLevelsAreWeighedByTheRest) {
    HeardNote first = tone(0.0, 50.0);
    first.shape.assign(10, HeardNote::noLevel);
    std::vector<HeardNote> notes{first, articulationWithin(first, 1.6)};
    weighRearticulations(notes);
    EXPECT_DOUBLE_EQ(notes[1].again.logOdds,
                     (RearticulationEvidence{1.6, 0.9, commonDipDb, 0.0, 0.2}.logOdds()));
    std::vector<HeardNote> nothing;
    weighRearticulations(nothing);
    std::vector<HeardNote> rearticulatedFirst{notes[1]};
    weighRearticulations(rearticulatedFirst);
    EXPECT_TRUE(std::isfinite(rearticulatedFirst[0].again.logOdds));
}

// As of a sampled horn, in a room the more: two of the four tones of one pitch waver at the same time.
TEST(RearticulationEvidence, WhatComesAgainAtTheSameTimeInTonesOfItsPitchIsHowTheySpeak) {
    const auto dips = [](int i) { return i == 13 || i == 33; };
    const auto pitch = [](int i) { return i % 10 == 3 ? 52.0 : 50.0 + i % 2; };
    const auto together = oddsIn(take(40, dips, pitch));
    const auto alone = oddsIn(take(
        40, [](int i) { return i == 13; }, pitch));
    ASSERT_EQ(together.size(), 2u);
    ASSERT_EQ(alone.size(), 1u);
    EXPECT_LT(together[0], alone[0] - 2.0);
    EXPECT_LT(together[1], alone[0] - 2.0);
}

TEST(RearticulationEvidence, WhatComesInTonesOfItsPitchAtOtherTimesSpeaksLittleAgainstIt) {
    const auto pitch = [](int i) { return i % 10 == 3 ? 52.0 : 50.0 + i % 2; };
    std::vector<HeardNote> notes = take(
        40, [](int i) { return i == 13 || i == 33; }, pitch);
    const double together = oddsIn(notes).front();
    for (HeardNote& note : notes)
        if (note.start == HeardNote::Start::rearticulated && note.onset > 10.0)
            note.again.since += 0.06;
    weighRearticulations(notes);
    EXPECT_GT(oddsIn(notes).front(), together + 2.0);
}

TEST(RearticulationEvidence, WeightSamenessAndDipsSpeakForAnArticulationAndRecurrenceAgainst) {
    const RearticulationEvidence some{1.0, 0.7, 4.0, 2.0, 0.1};
    const double odds = some.logOdds();
    EXPECT_GT((RearticulationEvidence{1.5, 0.7, 4.0, 2.0, 0.1}.logOdds()), odds);
    EXPECT_GT((RearticulationEvidence{1.0, 0.9, 4.0, 2.0, 0.1}.logOdds()), odds);
    EXPECT_GT((RearticulationEvidence{1.0, 0.7, 8.0, 2.0, 0.1}.logOdds()), odds);
    EXPECT_GT((RearticulationEvidence{1.0, 0.7, 4.0, 4.0, 0.1}.logOdds()), odds);
    EXPECT_LT((RearticulationEvidence{1.0, 0.7, 4.0, 2.0, 0.5}.logOdds()), odds);
    EXPECT_TRUE(std::isfinite(RearticulationEvidence{}.logOdds()));
}

} // namespace valveladder
