#include "Listening/Measures.h"
#include "MidiListenerPlayers.h"
#include "Words/RemarkWords.h"

#include <rapidcheck/gtest.h>

#include <cmath>

namespace valveladder {

namespace {

using test::ladder;
using test::oneSegment;
using test::secondsOf;

/// Every note heard right, `offsetMs(i)` away from the score's time, lasting until the next.
template <typename Offset>
Performance heard(const Score& score, Offset offsetMs) {
    Performance performance;
    for (int i = 0; i < static_cast<int>(score.notes.size()); ++i) {
        const ScoreNote& note = score.notes[static_cast<std::size_t>(i)];
        NoteResult result;
        result.index = i;
        result.outcome = Outcome::right;
        result.played = note.sounding;
        result.onsetSeconds = secondsOf(score, note.onset) + offsetMs(i) / 1000.0;
        result.offsetSeconds = *result.onsetSeconds + secondsOf(score, note.gate);
        performance.notes.push_back(result);
    }
    return performance;
}

Performance measured(const Score& score, Performance performance) {
    fillMeasures(performance, score, TempoMap(score.bpm));
    return performance;
}

double constantLate(int) {
    return 37.0;
}

} // namespace

TEST(Measures, ConstantLatenessIsAsynchronyAndNoUnevenness) {
    const Score score = ladder(72);
    const Performance p = measured(score, heard(score, constantLate));
    ASSERT_TRUE(p.asynchronyMs);
    EXPECT_NEAR(p.asynchronyMs->value, 37.0, 1e-6);
    EXPECT_NEAR(p.asynchronySpreadMs->value, 0.0, 1e-6);
    for (const NoteResult& note : p.notes) {
        EXPECT_NEAR(*note.rawDeviationMs, 37.0, 1e-6);
        EXPECT_NEAR(*note.deviationMs, 0.0, 1e-6);
    }
    for (const SegmentResult& segment : p.segments) {
        EXPECT_NEAR(segment.asynchronyMs->value, 37.0, 1e-6);
        EXPECT_NEAR(segment.ioiSpreadMs->value, 0.0, 1e-6);
        EXPECT_TRUE(segment.clean);
    }
    EXPECT_TRUE(p.clean());
}

// Independent errors add in quadrature: JCGM 100 (GUM), 5.1.2.
TEST(Measures, NoiseOfTheSourceIsTakenOffTheSpreadsInQuadrature) {
    const Score score = ladder(72);
    const auto uneven = [](int i) {
        constexpr double ms[] = {0.0, 11.0, -9.0, 5.0, -12.0, 8.0, -4.0};
        return ms[static_cast<std::size_t>(i) % std::size(ms)];
    };
    const Performance exact = measured(score, heard(score, uneven));
    constexpr double noiseMs = 0.5;
    Performance blurred = exact;
    fillMeasures(blurred, score, TempoMap(score.bpm), std::vector<double>(score.notes.size(), noiseMs));
    const SegmentResult& with = blurred.segments.front();
    const SegmentResult& without = exact.segments.front();
    ASSERT_GT(without.onsetSpreadMs->value, noiseMs);
    const auto less = [](double spread, double noise) { return std::sqrt(spread * spread - noise * noise); };
    EXPECT_NEAR(with.onsetSpreadMs->value, less(without.onsetSpreadMs->value, noiseMs), 1e-9);
    EXPECT_NEAR(with.ioiSpreadMs->value, less(without.ioiSpreadMs->value, std::sqrt(2.0) * noiseMs), 1e-9);
    EXPECT_LE(with.ioiSpreadMs->low, with.ioiSpreadMs->value);
    EXPECT_GE(with.ioiSpreadMs->high, with.ioiSpreadMs->value);
    fillMeasures(blurred, score, TempoMap(score.bpm), std::vector<double>(score.notes.size(), 1000.0));
    EXPECT_EQ(blurred.segments.front().ioiSpreadMs->value, 0.0);
}

TEST(Measures, SteadyDriftInsideASegmentIsNoUnevenness) {
    const Score score = ladder(72);
    const Performance p =
        measured(score, heard(score, [&](int i) {
                     return 0.04 * 1000.0 * secondsOf(score, score.notes[static_cast<std::size_t>(i)].onset);
                 }));
    for (const SegmentResult& segment : p.segments) {
        EXPECT_NEAR(segment.onsetSpreadMs->value, 0.0, 1e-6);
        EXPECT_NEAR(segment.ioiSpreadMs->value, 0.0, 1e-6);
    }
}

TEST(Measures, OneLateNoteShowsInItsOwnDeviationAndTheTwoIntervalsBesideIt) {
    const Score score = ladder(60, oneSegment(defaultSegments().front()));
    const Performance p = measured(score, heard(score, [](int i) { return i == 3 ? 25.0 : 0.0; }));
    ASSERT_EQ(p.notes.size(), 7U);
    for (int i = 0; i < 7; ++i)
        EXPECT_NEAR(*p.notes[static_cast<std::size_t>(i)].deviationMs, i == 3 ? 25.0 : 0.0, 1e-6) << i;
    EXPECT_FALSE(p.notes[0].ioiResidualMs);
    EXPECT_NEAR(*p.notes[2].ioiResidualMs, 0.0, 1e-6);
    EXPECT_NEAR(*p.notes[3].ioiResidualMs, 25.0, 1e-6);
    EXPECT_NEAR(*p.notes[4].ioiResidualMs, -25.0, 1e-6);
    EXPECT_NEAR(*p.notes[5].ioiResidualMs, 0.0, 1e-6);
}

TEST(Measures, SpreadInPercentIsOfTheNoteValue) {
    // Alternate notes 10 ms late: intervals alternate by 20 ms about 500 ms, eighths at 60.
    const Score score = ladder(60, oneSegment(defaultSegments().front(), 4));
    const Performance p = measured(score, heard(score, [](int i) { return i % 2 == 0 ? 0.0 : 10.0; }));
    ASSERT_EQ(p.segments.size(), 1U);
    const SegmentResult& segment = p.segments.front();
    EXPECT_NEAR(segment.ioiSpreadMs->value, madToSigma * 10.0, 0.6);
    EXPECT_NEAR(segment.onsetSpreadMs->value, madToSigma * 5.0, 0.6);
    EXPECT_NEAR(segment.ioiSpreadPercent->value, segment.ioiSpreadMs->value / 5.0, 1e-9);
    EXPECT_EQ(segment.ioiSpreadMs->n, 27);
    EXPECT_FALSE(segment.targetRatio);
    EXPECT_FALSE(segment.longShortRatio);
    EXPECT_EQ(p.worstIoiSpreadPercent(), segment.ioiSpreadPercent->value);
}

TEST(Measures, DottedPairsAreJudgedByTheirRatio) {
    // Played 2:1 where 3:1 was asked: long 2/3, short 1/3 of the pair, which lasts 1 s at 60.
    for (const bool longFirst : {true, false}) {
        Segment segment = defaultSegments().front();
        segment.rhythm = longFirst ? Rhythm::longShort() : Rhythm::shortLong();
        const Score score = ladder(60, oneSegment(segment));
        const double share = longFirst ? 2.0 / 3.0 - 3.0 / 4.0 : 1.0 / 3.0 - 1.0 / 4.0;
        const Performance p =
            measured(score, heard(score, [&](int i) { return i % 2 == 1 ? share * 1000.0 : 0.0; }));
        const SegmentResult& result = p.segments.front();
        EXPECT_EQ(result.targetRatio, 3.0);
        ASSERT_TRUE(result.longShortRatio);
        EXPECT_NEAR(result.longShortRatio->value, 2.0, 1e-9);
        EXPECT_EQ(result.longShortRatio->n, 6);
    }
}

TEST(Measures, DottedPairsPlayedAsAskedGiveTheTargetWhateverTheTempo) {
    for (const double bpm : {40.0, 97.3, 220.0}) {
        const Score score = ladder(bpm);
        const Performance p = measured(score, heard(score, constantLate));
        int uneven = 0;
        for (const SegmentResult& segment : p.segments)
            if (segment.targetRatio) {
                ++uneven;
                EXPECT_NEAR(segment.longShortRatio->value, *segment.targetRatio, 1e-6);
            }
        EXPECT_EQ(uneven, static_cast<int>(p.segments.size()) / 2);
    }
}

TEST(Measures, NoteValueIsTheMeanOfTheRhythmsCycle) {
    const Score score = ladder(60);
    for (const ScoreSpan& span : score.spans)
        EXPECT_DOUBLE_EQ(noteValueTicks(score, span), ticksPerQuarter / 2.0);
}

TEST(Measures, SilenceOverEightyMillisecondsInsideASegmentIsABreath) {
    const Score score = ladder(60);
    for (const auto& [silenceMs, breath] : {std::pair{79.0, false}, std::pair{81.0, true}}) {
        Performance p = heard(score, constantLate);
        *p.notes[2].offsetSeconds -= silenceMs / 1000.0;
        p = measured(score, p);
        EXPECT_EQ(p.notes[3].breathBefore, breath);
        EXPECT_EQ(p.segments[0].breaths, breath ? 1 : 0);
        EXPECT_EQ(p.segments[0].clean, !breath);
        EXPECT_EQ(p.clean(), !breath);
    }
}

TEST(Measures, RestsBetweenSegmentsAndDetachedTonguingAreNoBreaths) {
    Drill drill = defaultDrill(test::trumpet());
    for (Segment& segment : drill.segments)
        segment.slurred = false;
    const Score score = ladder(40, drill); // a quarter of 750 ms is left silent by the guide itself
    const Performance p = measured(score, heard(score, constantLate));
    EXPECT_TRUE(p.clean());
}

TEST(Measures, AfterDetachedNotesABreathStandsOutFromThePlayersOwnGaps) {
    Drill drill = defaultDrill(test::trumpet());
    for (Segment& segment : drill.segments)
        segment.slurred = false;
    const Score score = ladder(40, drill);
    for (const auto& [unevenMs, breath] :
         {std::pair{0.0, true}, std::pair{8.0, true}, std::pair{60.0, false}}) {
        Performance p = heard(score, constantLate);
        for (std::size_t i = 0; i < p.notes.size(); ++i)
            *p.notes[i].offsetSeconds += (i % 2 == 0 ? unevenMs : -unevenMs) / 1000.0;
        *p.notes[2].offsetSeconds -= 0.13;
        p = measured(score, p);
        EXPECT_EQ(p.notes[3].breathBefore, breath) << unevenMs;
        EXPECT_EQ(p.segments[0].breaths, breath ? 1 : 0) << unevenMs;
    }
}

TEST(Measures, AnExtraNoteThatSoundsIsNoSilence) {
    const Score score = ladder(60);
    Performance p = heard(score, constantLate);
    *p.notes[2].offsetSeconds -= 0.2;
    p.extras.push_back({*p.notes[2].offsetSeconds, *p.notes[3].onsetSeconds, 60, 2});
    p = measured(score, p);
    EXPECT_FALSE(p.notes[3].breathBefore);
    EXPECT_EQ(p.segments[0].extra, 1);
    EXPECT_FALSE(p.segments[0].clean);
}

TEST(Measures, TooFewNotesLeaveMeasuresOutAndSayWhy) {
    const Score score = ladder(60);
    Performance p = heard(score, constantLate);
    for (NoteResult& note : p.notes) {
        const ScoreNote& asked = score.notes[static_cast<std::size_t>(note.index)];
        const int place = note.index - score.spans[static_cast<std::size_t>(asked.span)].firstNote;
        if (asked.span == 0 || place < 5) {
            note = NoteResult{};
            note.index = static_cast<int>(&note - p.notes.data());
        }
    }
    p = measured(score, p);
    EXPECT_FALSE(p.segments[0].played);
    EXPECT_FALSE(p.segments[1].onsetSpreadMs);
    EXPECT_FALSE(p.segments[1].ioiSpreadMs);
    EXPECT_FALSE(p.segments[1].longShortRatio);
    const auto holds = [&](const std::string& part) {
        return std::ranges::any_of(inWords(p.remarks), [&](const std::string& remark) {
            return remark.find(part) != std::string::npos;
        });
    };
    EXPECT_TRUE(holds("1 segment not played"));
    EXPECT_TRUE(holds("No deviations in 11 segments"));
    EXPECT_TRUE(holds("No spread of onsets or intervals in 11 segments"));
    EXPECT_TRUE(holds("No long:short ratio in 6 segments"));
}

TEST(Measures, MeasuringTwiceChangesNothing) {
    const Score score = ladder(60);
    std::mt19937 random(5);
    std::normal_distribution<double> jitter(0.0, 8.0);
    const Performance once = measured(score, heard(score, [&](int) { return jitter(random); }));
    EXPECT_EQ(once, measured(score, once));
}

TEST(Measures, NotesOfAnotherScoreAreDropped) {
    const Score score = ladder(60);
    Performance p = heard(score, constantLate);
    NoteResult stranger;
    stranger.index = 100000;
    p.notes.push_back(stranger);
    p.extras.push_back({0.0, 1.0, 60, -5});
    p = measured(score, p);
    EXPECT_EQ(p.notes.size(), score.notes.size());
    EXPECT_TRUE(p.extras.empty());
}

RC_GTEST_PROP(Measures, ShiftingEveryOnsetChangesOnlyAsynchrony, ()) {
    const Score score = ladder(*rc::gen::inRange(40, 220));
    std::mt19937 random(*rc::gen::inRange(0U, 1000000U));
    const double shift = *rc::gen::inRange(-500, 500);
    std::normal_distribution<double> jitter(0.0, 12.0);
    std::vector<double> offsets(score.notes.size());
    for (double& offset : offsets)
        offset = jitter(random);
    const auto at = [&](int i) { return offsets[static_cast<std::size_t>(i)]; };
    const Performance a = measured(score, heard(score, at));
    const Performance b = measured(score, heard(score, [&](int i) { return at(i) + shift; }));
    RC_ASSERT(std::abs(b.asynchronyMs->value - a.asynchronyMs->value - shift) < 1e-6);
    RC_ASSERT(std::abs(b.asynchronySpreadMs->value - a.asynchronySpreadMs->value) < 1e-6);
    for (std::size_t i = 0; i < a.notes.size(); ++i)
        RC_ASSERT(std::abs(*a.notes[i].deviationMs - *b.notes[i].deviationMs) < 1e-6);
    for (std::size_t i = 0; i < a.segments.size(); ++i) {
        RC_ASSERT(std::abs(a.segments[i].ioiSpreadMs->value - b.segments[i].ioiSpreadMs->value) < 1e-6);
        RC_ASSERT(a.segments[i].longShortRatio.has_value() == b.segments[i].longShortRatio.has_value());
        if (a.segments[i].longShortRatio)
            RC_ASSERT(std::abs(a.segments[i].longShortRatio->value - b.segments[i].longShortRatio->value) <
                      1e-6);
    }
}

RC_GTEST_PROP(Measures, TwiceTheTempoHalvesMillisecondsAndKeepsPercentAndRatio, ()) {
    Drill drill = defaultDrill(test::trumpet());
    drill.rest.unit = Rest::Unit::beats;
    const int bpm = *rc::gen::inRange(40, 200);
    const Score slow = ladder(bpm, drill);
    const Score fast = ladder(2.0 * bpm, drill);
    std::mt19937 random(*rc::gen::inRange(0U, 1000000U));
    std::normal_distribution<double> jitter(0.0, 10.0);
    std::vector<double> offsets(slow.notes.size());
    for (double& offset : offsets)
        offset = jitter(random);
    const auto at = [&](int i) { return offsets[static_cast<std::size_t>(i)]; };
    const Performance a = measured(slow, heard(slow, at));
    const Performance b = measured(fast, heard(fast, [&](int i) { return at(i) / 2.0; }));
    for (std::size_t i = 0; i < a.segments.size(); ++i) {
        RC_ASSERT(std::abs(a.segments[i].ioiSpreadMs->value - 2.0 * b.segments[i].ioiSpreadMs->value) < 1e-6);
        RC_ASSERT(std::abs(a.segments[i].ioiSpreadPercent->value - b.segments[i].ioiSpreadPercent->value) <
                  1e-6);
        if (a.segments[i].longShortRatio)
            RC_ASSERT(std::abs(a.segments[i].longShortRatio->value - b.segments[i].longShortRatio->value) <
                      1e-6);
    }
}

} // namespace valveladder
