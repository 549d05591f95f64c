#include "Score/Score.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <limits>

namespace valveladder {
namespace {

const Instrument& trumpet() {
    return *findInstrument("trumpet-b-flat");
}

Score scoreOf(const Drill& drill, double bpm = 60.0) {
    auto score = buildScore(drill, trumpet(), bpm);
    EXPECT_TRUE(score.ok()) << (score ? "" : score.problem().text());
    return score.value();
}

TEST(Score, DefaultDrillHasThreeRungsOfFourSegmentsOfSevenNotesUpAndSixBack) {
    const Score score = scoreOf(defaultDrill(trumpet()));
    ASSERT_EQ(score.spans.size(), 12U);
    ASSERT_EQ(score.notes.size(), 156U);
    EXPECT_EQ(score.countInTicks, 4 * ticksPerQuarter);
    EXPECT_EQ(score.notes.front().onset, score.countInTicks);
    EXPECT_EQ(score.notes.front().written, 54);
    EXPECT_EQ(score.notes.front().sounding, 52);
}

TEST(Score, DottedPairsShareTheirTimeThreeToOne) {
    const Score score = scoreOf(defaultDrill(trumpet()));
    const int first = score.spans[1].firstNote;
    EXPECT_EQ(score.notes[static_cast<std::size_t>(first)].length, ticksPerQuarter * 3 / 4);
    EXPECT_EQ(score.notes[static_cast<std::size_t>(first + 1)].length, ticksPerQuarter / 4);
    EXPECT_TRUE(score.notes[static_cast<std::size_t>(first)].isLong);
    const int reversed = score.spans[2].firstNote;
    EXPECT_EQ(score.notes[static_cast<std::size_t>(reversed)].length, ticksPerQuarter / 4);
    EXPECT_TRUE(score.notes[static_cast<std::size_t>(reversed)].isShort);
}

TEST(Score, SegmentsStartOnBarLinesAfterTheirRest) {
    const Score score = scoreOf(defaultDrill(trumpet()));
    for (std::size_t i = 1; i < score.spans.size(); ++i) {
        EXPECT_EQ(score.spans[i].start % score.meter.barTicks(), 0);
        EXPECT_GE(score.spans[i].start - score.spans[i - 1].end, 2 * ticksPerQuarter);
    }
    EXPECT_EQ(score.length % score.meter.barTicks(), 0);
}

TEST(Score, RestInSecondsIsRoundedUpToWholeBeats) {
    Drill drill = defaultDrill(trumpet());
    drill.rest = {1.6, Rest::Unit::seconds, false};
    const Score score = scoreOf(drill, 90.0); // 1.6 s are 2.4 beats
    EXPECT_EQ(score.spans[1].start - score.spans[0].end, 3 * ticksPerQuarter);
}

TEST(Score, RestThatFillsItsBeatsDoesSoAtATempoRoundedToMicrosecondsToo) {
    Drill drill = defaultDrill(trumpet());
    drill.rest = {10.0, Rest::Unit::seconds, false};
    for (int bpm = 30; bpm <= 240; bpm += 6) {
        const double inAFile = 60e6 / std::round(60e6 / bpm);
        EXPECT_TRUE(scoreOf(drill, bpm).sameLayout(scoreOf(drill, inAFile))) << bpm;
    }
}

TEST(Score, ACellKeepsItsOwnValvesAndItsOwnRest) {
    const Combination third = *Combination::parse("3"), first = *Combination::parse("1");
    Drill drill;
    DrillCell own({57, 58}, {third, std::nullopt});
    own.restAfter = Rest{10.0, Rest::Unit::seconds, false};
    drill.pattern = CellPattern{{own, {57, 58}}};
    const Score score = scoreOf(drill, 60.0);
    ASSERT_EQ(score.spans.size(), 8U);
    for (int span = 0; span < 4; ++span)
        EXPECT_EQ(score.notes[static_cast<std::size_t>(2 * span)].combination, third);
    EXPECT_EQ(score.notes[1].combination, first);
    EXPECT_EQ(score.notes[8].combination, *Combination::parse("1-2"));
    EXPECT_EQ(score.spans[4].start - score.spans[3].end, 10 * ticksPerQuarter);
    EXPECT_LT(score.spans[1].start - score.spans[0].end, 10 * ticksPerQuarter);
}

TEST(Score, TouchAndAccentsSetTheGuidesVelocity) {
    const Score score = scoreOf(defaultDrill(trumpet()));
    const auto first = [&](std::size_t span) {
        return score.notes[static_cast<std::size_t>(score.spans[span].firstNote)];
    };
    EXPECT_GT(first(0).velocity, first(3).velocity);
    EXPECT_TRUE(first(0).accent);
    EXPECT_FALSE(first(3).accent);
}

TEST(Score, DriftingAccentsWanderOverTheBeat) {
    Drill drill = defaultDrill(trumpet());
    drill.segments = {{"Drift", Rhythm::even(), Touch::firm, {AccentRule::drift, 3}, true}};
    const Score score = scoreOf(drill);
    for (int i = 0; i < 7; ++i)
        EXPECT_EQ(score.notes[static_cast<std::size_t>(i)].accent, i % 3 == 0);
}

TEST(Score, TonguedNotesAreShorterAndAccentedOnesLonger) {
    Drill drill = defaultDrill(trumpet());
    drill.segments = {{"Tongued", Rhythm::even(), Touch::firm, {AccentRule::firstOfGroup, 2}, false}};
    const Score score = scoreOf(drill);
    EXPECT_LT(score.notes[0].gate, score.notes[0].length);
    EXPECT_GT(score.notes[0].gate, score.notes[1].gate);
    EXPECT_FALSE(score.notes[1].slurFromPrevious);
}

TEST(Score, WarnsOfASegmentLongerThanABreath) {
    Drill drill = defaultDrill(trumpet());
    drill.repeats = 3; // 39 eighths are 19.5 s at 60
    drill.breathSeconds = 12.0;
    const Score score = scoreOf(drill);
    const auto warnings = breathWarnings(score, drill, 60.0);
    ASSERT_EQ(warnings.size(), score.spans.size());
    EXPECT_EQ(warnings.front(), (BreathWarning{score.rungLabels.front(), 0, 19.5, 60.0, 12.0}));
    EXPECT_EQ(warnings.back().rung, score.rungLabels.back());
    EXPECT_EQ(warnings.back().segment, score.spans.back().segment);
    EXPECT_TRUE(breathWarnings(score, drill, 120.0).empty());
}

TEST(Score, TemposOutsideTheRangeAreRefused) {
    for (const double bpm : {0.0, 9.0, 1000.0, -60.0, std::numeric_limits<double>::quiet_NaN()})
        EXPECT_FALSE(buildScore(defaultDrill(trumpet()), trumpet(), bpm).ok()) << bpm;
}

TEST(Score, NoteAtFindsTheSoundingOrTheNextNote) {
    const Score score = scoreOf(defaultDrill(trumpet()));
    EXPECT_EQ(score.noteAt(0), 0U);
    EXPECT_EQ(score.noteAt(score.notes[3].onset), 3U);
    EXPECT_EQ(score.noteAt(score.notes[3].onset + 1), 3U);
    EXPECT_EQ(score.noteAt(score.spans[0].end), 13U);
    EXPECT_EQ(score.noteAt(score.length), score.notes.size());
}

RC_GTEST_PROP(ScoreProperty, NotesAreSortedTileTheirSpanAndStayInsideTheScore, ()) {
    Drill drill = defaultDrill(trumpet());
    auto& ladder = std::get<LadderPattern>(drill.pattern);
    ladder.foot = *rc::gen::inRange(54, 70);
    ladder.firstTop = ladder.foot + *rc::gen::inRange(1, 8);
    ladder.lastTop = ladder.firstTop + *rc::gen::inRange(0, 5);
    ladder.growth = *rc::gen::element(Growth::shift, Growth::extend);
    ladder.shape = *rc::gen::element(Shape::up, Shape::upDown, Shape::downUp);
    drill.repeats = *rc::gen::inRange(1, 4);
    drill.noteTicks = *rc::gen::element(630, 1260, 1680, 2520, 5040, 7560);
    drill.meter.beats = *rc::gen::inRange(1, 8);
    drill.meter.unit = *rc::gen::element(2, 4, 8);
    for (Segment& segment : drill.segments)
        segment.rhythm.shares = *rc::gen::resize(
            6, rc::gen::suchThat(rc::gen::container<std::vector<int>>(rc::gen::inRange(1, 17)),
                                 [](const auto& s) { return !s.empty() && s.size() <= Rhythm::maxShares; }));
    const Score score = scoreOf(drill, *rc::gen::inRange(20, 300));
    for (const ScoreSpan& span : score.spans) {
        Tick at = span.start;
        for (int i = span.firstNote; i < span.firstNote + span.noteCount; ++i) {
            const ScoreNote& note = score.notes[static_cast<std::size_t>(i)];
            RC_ASSERT(note.onset == at);
            RC_ASSERT(note.length > 0);
            RC_ASSERT(note.gate >= 1 && note.gate <= note.length);
            RC_ASSERT(note.velocity >= 1 && note.velocity <= 127);
            at += note.length;
        }
        RC_ASSERT(at == span.end);
        RC_ASSERT(span.end <= score.length);
    }
    for (std::size_t i = 1; i < score.spans.size(); ++i)
        RC_ASSERT(score.spans[i].start >= score.spans[i - 1].end);
}

} // namespace
} // namespace valveladder
