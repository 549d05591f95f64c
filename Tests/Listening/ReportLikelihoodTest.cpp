// How sure a report is: that it follows what the sound shows, that what is unlikely is taken back, and that
// on a part that it was not fitted to reports are so about as often as they are said to be. Nothing here is a
// live player.
#include "Listening/Measures.h"
#include "Listening/WeighedReports.h"
#include "Support/CorpusRun.h"
#include "Support/KnownReports.h"

#include <gtest/gtest.h>

#include <cmath>
#include <iostream>

namespace valveladder {
namespace {

/// A second articulation that stands out, half of the note's time after the first.
ReportEvidence clearArticulation() {
    ReportEvidence evidence;
    evidence.seconds = 0.15;
    evidence.askedSeconds = 0.3;
    evidence.periodicity = 0.97;
    evidence.struck = true;
    evidence.rearticulationLogOdds = 4.0;
    return evidence;
}

/// What may as well be the end of the note before.
ReportEvidence faintMoment() {
    ReportEvidence evidence = clearArticulation();
    evidence.seconds = 0.03;
    evidence.levelDb = -15.0;
    evidence.periodicity = 0.5;
    evidence.offPitch = 0.45;
    evidence.struck = false;
    evidence.interval = 3.0;
    evidence.rearticulationLogOdds = -4.0;
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

/// One segment in which `count` notes of C4 and up were heard in their places, half a second apart.
struct Heard {
    ScoreMatch match;
    std::vector<HeardNote> sounds;
    ExpectedNotes expected;

    explicit Heard(int count) {
        for (int i = 0; i < count; ++i) {
            NoteResult note;
            note.index = i;
            note.outcome = Outcome::right;
            note.played = 60 + i;
            note.onsetSeconds = 0.5 * i;
            match.performance.notes.push_back(note);
            match.heardFor.push_back(i);
            expected.notes.push_back({0.5 * i, 60 + i, 0.5, i == 0});
            expected.ends.push_back(0.5 * (i + 1));
            sounds.push_back(sound(0.5 * i, 0.5 * i + 0.48, 60 + i));
        }
        SegmentResult segment;
        segment.expected = count;
        match.performance.segments.push_back(segment);
        countNotesAgain(match.performance);
    }

    static HeardNote sound(double onset, double offset, double midi) {
        HeardNote note;
        note.onset = onset;
        note.offset = offset;
        note.midi = midi;
        note.level = 0.1;
        note.periodicity = 0.97;
        return note;
    }

    /// Adds a sound before that of note `before`, and the extra that it makes.
    void addExtra(int before, double onset, double offset, int midi) {
        const auto place = static_cast<std::size_t>(before);
        sounds.insert(sounds.begin() + before, sound(onset, offset, midi));
        for (std::size_t i = place; i < match.heardFor.size(); ++i)
            ++match.heardFor[i];
        match.performance.extras.push_back({onset, offset, midi, before});
    }

    [[nodiscard]] std::vector<WeighedReport> weigh() const {
        return weighReports(match, sounds, expected, 0.0);
    }
    [[nodiscard]] NoteResult& note(std::size_t i) { return match.performance.notes[i]; }
};

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
    EXPECT_GT(likelihoodOf(WeighedAs::spoke, clearArticulation()), 0.9);
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
        {{0, ReportKind::split}, std::nullopt, clearArticulation(), 0.0},
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

TEST(ReportLikelihood, ASegmentIsCountedAgainWithoutAnExtraThatIsTakenBack) {
    Heard heard(3);
    heard.match.performance.extras.push_back({0.7, 0.72, 61, 1});
    countNotesAgain(heard.match.performance);
    ASSERT_EQ(heard.match.performance.segments.front().extra, 1);
    ReportEvidence faint = faintMoment();
    faint.seconds = 0.5;
    faint.levelDb = -25.0;
    judgeReports(heard.match.performance,
                 std::vector<WeighedReport>{{{1, ReportKind::extra}, 0, faint, 0.7}});
    EXPECT_TRUE(heard.match.performance.extras.empty());
    EXPECT_EQ(heard.match.performance.segments.front().extra, 0);
    EXPECT_TRUE(heard.match.performance.segments.front().clean);
}

TEST(ReportLikelihood, AnotherPitchBesideANoteThatSpokeAtOnceIsWeighedAsANoteOfItsOwn) {
    Heard heard(3);
    heard.addExtra(1, 0.4, 0.44, 65);
    heard.note(1).split = true;
    judgeReports(heard.match.performance,
                 std::vector<WeighedReport>{{{1, ReportKind::split}, std::nullopt, faintMoment(), 0.0}});
    EXPECT_FALSE(heard.note(1).split);
    ASSERT_EQ(heard.match.performance.extras.size(), 1U);
    const auto again = heard.weigh();
    ASSERT_EQ(again.size(), 1U);
    EXPECT_EQ(again[0].report, (NoteReport{1, ReportKind::extra}));
    judgeReports(heard.match.performance, again);
    EXPECT_TRUE(heard.weigh().empty()); // all is judged
}

TEST(ReportLikelihood, AFirstArticulationBesideItsNoteIsWeighedByWhatShowsTheSecond) {
    Heard heard(3);
    heard.addExtra(1, 0.4, 0.48, 61);
    heard.sounds[2].start = HeardNote::Start::rearticulated;
    heard.sounds[2].again.logOdds = -3.0;
    heard.note(1).split = true;
    const auto reports = heard.weigh();
    ASSERT_EQ(reports.size(), 1U);
    EXPECT_DOUBLE_EQ(reports[0].evidence.rearticulationLogOdds, -3.0);
    EXPECT_FALSE(reports[0].evidence.struck);
}

TEST(ReportLikelihood, ACrackAndTheBreathBeforeItAreWeighedByTheSoundThatCameFirst) {
    Heard cracked(3);
    cracked.sounds[0].offset = 0.2;
    cracked.addExtra(1, 0.5, 0.56, 65);
    cracked.sounds[2].onset = 0.56;
    cracked.note(1).split = true;
    cracked.note(1).crackedMs = 60.0;
    cracked.note(1).breathBefore = true;
    const auto reports = cracked.weigh();
    ASSERT_EQ(reports.size(), 2U);
    for (const WeighedReport& each : reports) {
        EXPECT_NEAR(each.evidence.silentSeconds, 0.3, 1e-9);
        EXPECT_NEAR(each.evidence.seconds, 0.06, 1e-9);
    }
}

TEST(ReportLikelihood, ACrackThatIsTakenBackLeavesTheNoteWhereItSettled) {
    Heard cracked(3);
    cracked.addExtra(1, 0.5, 0.56, 65);
    cracked.note(1).split = true;
    cracked.note(1).crackedMs = 60.0;
    cracked.note(1).crackedThrough = 65;
    ReportEvidence faint = faintMoment();
    faint.seconds = 0.5;
    faint.levelDb = -25.0;
    judgeReports(cracked.match.performance,
                 std::vector<WeighedReport>{{{1, ReportKind::cracked}, std::nullopt, faint, 0.0}});
    EXPECT_FALSE(cracked.note(1).crackedMs);
    EXPECT_NEAR(*cracked.note(1).onsetSeconds, 0.56, 1e-9);
}

TEST(ReportLikelihood, ASegmentBegunAnewTellsNothingOfWhenTheNextOneWasPlayed) {
    Heard heard(4);
    heard.expected.notes[2].startsSegment = true;
    for (std::size_t i : {0U, 1U}) // four seconds later than asked for
        heard.expected.notes[i].seconds -= 4.0;
    heard.note(2).outcome = Outcome::missed;
    heard.note(2).onsetSeconds.reset();
    heard.match.heardFor[2] = -1;
    heard.match.heardFor[3] = 2;
    heard.sounds.erase(heard.sounds.begin() + 2);
    const auto reports = heard.weigh();
    ASSERT_EQ(reports.size(), 1U);
    EXPECT_NEAR(reports[0].evidence.silentSeconds, 0.5, 1e-9);
}

TEST(ReportLikelihood, OfTwoOrdersOfTheFingersThatFitAlikeNeitherIsTold) {
    EXPECT_LT(likelihoodOf(LateEvidence{0.02, 0.0, 1.0}), leastLateLikelihood);
    EXPECT_GT(likelihoodOf(LateEvidence{0.02, 0.002, 3.0}), leastLateLikelihood);
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
