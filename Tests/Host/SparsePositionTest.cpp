#include "Plugin/SparsePosition.h"

#include "Host/SongMap.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <utility>

namespace valveladder::host {

namespace {

constexpr double rate = 48000.0;
constexpr int samples = 480;

HostBlock facts(int count = samples) {
    HostBlock block;
    block.sampleRate = rate;
    block.samples = count;
    return block;
}

/// In 4/4, bars and beats told.
TimeReport report(std::int64_t frame, double bpm, std::int64_t bar, double barBeat, bool playing = true) {
    TimeReport result;
    result.frame = frame;
    result.bar = bar;
    result.barBeat = barBeat;
    result.beatsPerBar = 4.0;
    result.beatUnit = 4;
    result.beatsPerMinute = bpm;
    result.speed = playing ? 1.0 : 0.0;
    return result;
}

HostBlock tell(SparsePosition& position, const TimeReport& told) {
    return position.complete(facts(), {&told, 1});
}

HostBlock silence(SparsePosition& position) {
    return position.complete(facts(), {});
}

} // namespace

TEST(SparsePosition, NothingEverSaidStaysUnknown) {
    SparsePosition position;
    EXPECT_FALSE(silence(position).ppq.has_value());
    EXPECT_FALSE(silence(position).playing);
    EXPECT_FALSE(position.assumed());
}

TEST(SparsePosition, SilenceMeansThatTimeGoesOn) {
    SparsePosition position;
    EXPECT_DOUBLE_EQ(*tell(position, report(0, 120.0, 0, 0.0)).ppq, 0.0);
    for (int i = 1; i < 1000; ++i) {
        const HostBlock block = silence(position);
        EXPECT_TRUE(block.playing);
        EXPECT_DOUBLE_EQ(*block.ppq, i * samples * 120.0 / 60.0 / rate);
        EXPECT_EQ(block.meterBeats, 4);
        EXPECT_EQ(block.meterUnit, 4);
    }
}

TEST(SparsePosition, StoppedStandsStill) {
    SparsePosition position;
    EXPECT_DOUBLE_EQ(*tell(position, report(48000, 120.0, 0, 2.0, false)).ppq, 2.0);
    EXPECT_DOUBLE_EQ(*silence(position).ppq, 2.0);
    EXPECT_FALSE(silence(position).playing);
}

TEST(SparsePosition, NewTempoInsideABlockHoldsFromThatSample) {
    SparsePosition position;
    (void)tell(position, report(0, 120.0, 0, 0.0));
    TimeReport inside = report(600, 60.0, 0, 0.025);
    inside.offset = 120;
    const HostBlock changed = tell(position, inside);
    EXPECT_DOUBLE_EQ(*changed.ppq, 0.02);
    EXPECT_DOUBLE_EQ(*changed.bpm, 120.0);
    const HostBlock next = silence(position);
    EXPECT_NEAR(*next.ppq, 600 * 2.0 / rate + 360 * 1.0 / rate, 1.0e-9);
    EXPECT_DOUBLE_EQ(*next.bpm, 60.0);
}

TEST(SparsePosition, StepToldOnlyWithTheNextBlockLeavesNoOffset) {
    SparsePosition position;
    (void)tell(position, report(0, 120.0, 0, 0.0));
    // 120 to 240 at sample 240 of the first block: 0.01 + 0.02 quarters lie before the second.
    EXPECT_NEAR(*tell(position, report(480, 240.0, 0, 0.03)).ppq, 0.03, 1.0e-9);
    EXPECT_NEAR(*silence(position).ppq, 0.07, 1.0e-9);
}

TEST(SparsePosition, RoundingOfTheHostIsNotHeard) {
    SparsePosition position;
    for (int i = 0; i < 2000; ++i) {
        const double truth = i * samples * 93.0 / 60.0 / rate;
        const double told = std::round(truth * 1920.0) / 1920.0;
        const double bar = std::floor(told / 4.0);
        const HostBlock block = tell(position, report(std::int64_t{i} * samples, 93.0,
                                                      static_cast<std::int64_t>(bar), told - bar * 4.0));
        ASSERT_NEAR(*block.ppq, truth, 1.0e-7) << "block " << i;
        ASSERT_DOUBLE_EQ(*block.bpm, 93.0);
    }
}

TEST(SparsePosition, PreRollBeforeZeroIsNotMistakenForTheFirstBar) {
    SparsePosition position;
    EXPECT_DOUBLE_EQ(*tell(position, report(-240, 120.0, 0, 0.0)).ppq, -0.01);
    EXPECT_DOUBLE_EQ(*silence(position).ppq, 0.01);
}

TEST(SparsePosition, GoingBehindATempoChangeFallsOnBarAndBeatTold) {
    // Two bars at 60 and then 120: bar 3 begins at 8 + 2 s. The frame alone, at 120, would give 20 quarters.
    SparsePosition position;
    EXPECT_DOUBLE_EQ(*tell(position, report(480000 + 12000, 120.0, 3, 0.5)).ppq, 12.5);
    EXPECT_TRUE(position.assumed()) << "it may have been the meter: nothing before was seen";
    (void)tell(position, report(0, 60.0, 0, 0.0));
    EXPECT_FALSE(position.assumed());
}

TEST(SparsePosition, MeterChangedUnseenIsFoundByTheFrameAtOneTempo) {
    SparsePosition position;
    TimeReport first = report(0, 120.0, 0, 0.0, false);
    first.beatsPerBar = 3.0;
    (void)tell(position, first);
    // Four bars of 3/4, then 4/4: bar 9 begins at 12 + 16 quarters.
    EXPECT_DOUBLE_EQ(*tell(position, report(28 * 24000, 120.0, 8, 0.0, false)).ppq, 28.0);
    EXPECT_FALSE(position.assumed());
}

TEST(SparsePosition, MeterAndTempoChangedUnseenIsSaidToBeAssumed) {
    SparsePosition position;
    TimeReport first = report(0, 120.0, 0, 0.0, false);
    first.beatsPerBar = 3.0;
    (void)tell(position, first);
    (void)tell(position, report(28 * 24000 + 777, 100.0, 8, 0.0, false));
    EXPECT_TRUE(position.assumed());
}

TEST(SparsePosition, BeatsAreTakenWhereNoBarsAreTold) {
    SparsePosition position;
    TimeReport told = report(0, 120.0, 0, 0.0);
    told.bar.reset();
    told.barBeat.reset();
    told.beat = 7.5;
    EXPECT_DOUBLE_EQ(*tell(position, told).ppq, 7.5);
}

TEST(SparsePosition, RunningBeatTellsWhereTheBarBegins) {
    SparsePosition position;
    TimeReport told = report(100000, 120.0, 8, 1.25);
    told.beat = 29.25;
    EXPECT_DOUBLE_EQ(*tell(position, told).ppq, 29.25);
    EXPECT_FALSE(position.assumed());
    told.beat = 29.0; // whole beats only
    EXPECT_DOUBLE_EQ(*tell(position, told).ppq, 29.25);
    told.beat = 1.0; // counted within the bar
    EXPECT_DOUBLE_EQ(*tell(position, told).ppq, 29.25) << "the bar is known by now";
}

TEST(SparsePosition, EditedMetersReplaceWhatWasLearnt) {
    SparsePosition position;
    for (int i = 0; i < 5; ++i)
        (void)tell(position, report(std::int64_t{i} * 96000, 120.0, i, 0.0, false));
    TimeReport edited = report(12 * 24000, 120.0, 4, 0.0, false);
    edited.beatsPerBar = 3.0; // the session is in 3/4 now
    TimeReport start = report(0, 120.0, 0, 0.0, false);
    start.beatsPerBar = 3.0;
    (void)tell(position, start);
    EXPECT_DOUBLE_EQ(*tell(position, edited).ppq, 12.0);
}

TEST(SparsePosition, RubbishIsLeftOut) {
    SparsePosition position;
    TimeReport rubbish = report(0, std::numeric_limits<double>::quiet_NaN(), 0, 0.0);
    rubbish.barBeat = std::numeric_limits<double>::infinity();
    rubbish.beatUnit = 0;
    EXPECT_FALSE(tell(position, rubbish).bpm.has_value());
    rubbish = report(std::numeric_limits<std::int64_t>::max(), 1.0e30,
                     std::numeric_limits<std::int64_t>::min(), -1.0e30);
    rubbish.offset = -7;
    (void)tell(position, rubbish);
    rubbish.offset = 1 << 30;
    (void)tell(position, rubbish);
    EXPECT_DOUBLE_EQ(*tell(position, report(0, 120.0, 0, 0.0)).ppq, 0.0);
}

/// Positions of blocks over a whole song, told as hosts do.
class SparsePositionSongs : public testing::Test {
protected:
    /// Greatest error of position, quarters.
    static double worst(const SongMap& song, const Dialect& dialect, int blockSamples, double quarters) {
        SparsePosition position;
        if (dialect.quartersBehindPoint)
            position.expectQuartersBehindPoint();
        double furthest = 0.0;
        TimeReport standing = reportAt(song, dialect, 0, 0, rate, false);
        (void)position.complete(facts(blockSamples), {&standing, 1});
        for (std::int64_t frame = 0; frame < std::llround(song.secondsAt(quarters) * rate);
             frame += blockSamples) {
            const TimeReport told = reportAt(song, dialect, frame, 0, rate, true);
            const HostBlock block = position.complete(facts(blockSamples), {&told, 1});
            const double truth = song.quarterAt(static_cast<double>(frame) / rate);
            furthest = std::max(furthest, std::abs(*block.ppq - truth));
        }
        return furthest;
    }
};

TEST_F(SparsePositionSongs, EveryWayOfCountingTempoKeepsWithinTheHostsTick) {
    const SongMap song({{0.0, 120.0}, {6.0, 90.0}, {20.0, 75.0, 0.5}, {34.0, 100.0, 2.0}},
                       {{0.0, 3, 4}, {12.0, 4, 4}, {20.0, 7, 8}, {34.0, 2, 2}});
    for (const bool quartersBehind : {false, true})
        for (const bool beats : {false, true})
            for (const double ticks : {1920.0, 480.0, 0.0})
                for (const int block : {16, 441, 4096}) {
                    SCOPED_TRACE(testing::Message() << beats << " " << ticks << " " << block);
                    const Dialect dialect{"", true, false, ticks, beats, true, quartersBehind};
                    const double tick = ticks > 0.0 ? 1.0 / ticks : 1.0e-4;
                    EXPECT_LE(worst(song, dialect, block, 46.0), tick);
                }
}

TEST_F(SparsePositionSongs, TrueRampIsFollowed) {
    const SongMap song({{0.0, 60.0}, {6.0, 60.0, 1.0, true}, {22.0, 120.0}}, {{0.0, 4, 4}});
    for (const bool first : {false, true})
        for (const int block : {128, 1024, 8192})
            EXPECT_LE(worst(song, {"", true, false, 1920, false, first, false}, block, 30.0), 2.0 / 1920.0);
}

namespace {

/// As Qtractor 0.9.31 was seen to tell it, in 4/4: at the first block of a beat with a frame that lies ahead.
TimeReport wholeBeats(const SongMap& song, std::int64_t frame, std::int64_t ahead = 0) {
    const auto place = song.barAt(song.quarterAt(static_cast<double>(frame) / rate));
    TimeReport told = report(frame, song.bpmAt(song.quarterAt(static_cast<double>(frame) / rate)), place.bar,
                             static_cast<double>(place.bar) * 4.0);
    told.beat = std::floor(place.beat) + 1.0;
    *told.frame += ahead;
    return told;
}

} // namespace

TEST(SparsePosition, WholeBeatsAloneAreFilledUpByTheTempo) {
    const SongMap song({{0.0, 132.0}}, {{0.0, 4, 4}});
    for (const std::int64_t start : {0, 1024, 371456, 96000}) {
        SparsePosition position;
        for (std::int64_t frame = start; frame < start + 480000; frame += samples) {
            const HostBlock block = tell(position, wholeBeats(song, frame));
            ASSERT_NEAR(*block.ppq, song.quarterAt(static_cast<double>(frame) / rate), 1.0e-6) << frame;
            ASSERT_NEAR(*block.bpm, 132.0, 1.0e-9);
            ASSERT_FALSE(position.assumed());
        }
    }
}

TEST(SparsePosition, FramesReadAheadAtTheFirstBlockOfABeatArePassedOver) {
    const SongMap song({{0.0, 132.0}}, {{0.0, 4, 4}});
    SparsePosition position;
    double beatBefore = 0.0;
    for (std::int64_t frame = 256; frame < 480000; frame += samples) {
        const double quarter = song.quarterAt(static_cast<double>(frame) / rate);
        const double beat = std::floor(quarter);
        const bool first = beat != std::exchange(beatBefore, beat);
        const HostBlock block = frame == 256 || first || quarter - beat > 0.88
                                    ? tell(position, wholeBeats(song, frame, first ? 2560 : 0))
                                    : silence(position);
        ASSERT_NEAR(*block.ppq, quarter, 1.0e-6) << frame;
        ASSERT_TRUE(frame == 256 || block.playedOn) << frame;
    }
}

TEST(SparsePosition, WholeBeatsThroughTempoStepsAreOffByABlockAtMost) {
    const SongMap song({{0.0, 120.0}, {8.0, 197.0}, {16.0, 123.5}}, {{0.0, 4, 4}});
    SparsePosition position;
    for (std::int64_t frame = 0; frame < 600000; frame += samples) {
        const HostBlock block = tell(position, wholeBeats(song, frame));
        const double quarter = song.quarterAt(static_cast<double>(frame) / rate);
        ASSERT_NEAR(*block.ppq, quarter, samples / rate * (197.0 - 120.0) / 60.0) << frame;
    }
}

} // namespace valveladder::host
