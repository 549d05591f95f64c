#include "Takes/TakeWatch.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace valveladder::test {
namespace {

/// A host before a drill of 8 quarters a lap: count-in to quarter 4, last note's end at 7. 60 bpm and 1000 Hz
/// make a quarter 1000 samples.
class TakesHost {
public:
    explicit TakesHost(TakeWay way, double ppq = 0.0) : watch(way), now(ppq) {
        block.sampleRate = 1000.0;
        block.bpm = 60.0;
        block.playing = true;
        block.heard = true;
    }

    /// Rolls (or stands) for so many samples in blocks of `size`.
    void run(int samples, int size = 64) {
        while (samples > 0) {
            step(std::min(size, samples));
            samples -= std::min(size, samples);
        }
    }

    void step(int samples) {
        block.samples = samples;
        block.ppq = now;
        block.lap = now < 0.0 ? 0 : static_cast<std::int64_t>(std::floor((now + 1e-9) / 8.0));
        block.takeStartPpq = static_cast<double>(block.lap) * 8.0 + 4.0;
        block.takeEndPpq = static_cast<double>(block.lap) * 8.0 + 7.0;
        block.lapQuarters = 8.0;
        for (const TakeEdge& edge : watch.watch(block))
            edges.push_back(edge);
        block.startSample += samples;
        if (block.playing)
            now += samples / 1000.0;
        block.jumped = false;
        block.marks = block.handPresses = 0;
    }

    void jump(double ppq) {
        now = ppq;
        block.jumped = true;
    }

    TakeWatch watch;
    WatchedBlock block;
    double now;
    std::vector<TakeEdge> edges;
};

void expectBegin(const TakeEdge& edge, std::int64_t sample, double ppq, std::int64_t lap) {
    EXPECT_EQ(edge.kind, TakeEdge::Kind::begin);
    EXPECT_EQ(edge.sample, sample);
    EXPECT_NEAR(edge.ppq, ppq, 1e-6);
    EXPECT_EQ(edge.lap, lap);
}

void expectEnd(const TakeEdge& edge, std::int64_t sample, double ppq, TakeEnd end) {
    EXPECT_EQ(edge.kind, TakeEdge::Kind::end);
    EXPECT_EQ(edge.sample, sample);
    EXPECT_NEAR(edge.ppq, ppq, 1e-6);
    EXPECT_STREQ(name(edge.end), name(end));
}

TEST(TakeWatch, RecordedPassIsATakeFromFirstNoteToLastToTheSample) {
    for (const int size : {1, 7, 64, 999, 4096, 16000}) {
        TakesHost host(TakeWay::recordingPass);
        host.block.recording = true;
        host.run(16000, size);
        ASSERT_EQ(host.edges.size(), 4U) << size;
        expectBegin(host.edges[0], 4000, 4.0, 0);
        expectEnd(host.edges[1], 7000, 7.0, TakeEnd::whole);
        expectBegin(host.edges[2], 12000, 12.0, 1);
        expectEnd(host.edges[3], 15000, 15.0, TakeEnd::whole);
        EXPECT_TRUE(host.edges[1].heard);
    }
}

TEST(TakeWatch, PreRollIsNotPartOfTheTake) {
    TakesHost host(TakeWay::recordingPass, -2.0);
    host.block.recording = true;
    host.run(10000);
    ASSERT_EQ(host.edges.size(), 2U);
    expectBegin(host.edges[0], 6000, 4.0, 0);
}

TEST(TakeWatch, PlayingWithoutRecordingIsNoRecordedPass) {
    TakesHost host(TakeWay::recordingPass);
    host.run(16000);
    EXPECT_TRUE(host.edges.empty());
}

TEST(TakeWatch, StopCutsTheTakeAtTheBlocksFirstSample) {
    TakesHost host(TakeWay::recordingPass);
    host.block.recording = true;
    host.run(5000, 500);
    host.block.playing = false;
    host.run(1000, 500);
    ASSERT_EQ(host.edges.size(), 2U);
    expectEnd(host.edges[1], 5000, 5.0, TakeEnd::stopped);
}

TEST(TakeWatch, RecordingSwitchedOnAfterTheFirstNoteMakesTheTakeLate) {
    TakesHost host(TakeWay::recordingPass);
    host.run(5000, 500);
    host.block.recording = true;
    host.run(3000, 500);
    ASSERT_EQ(host.edges.size(), 2U);
    expectBegin(host.edges[0], 5000, 5.0, 0);
    expectEnd(host.edges[1], 7000, 7.0, TakeEnd::late);
}

TEST(TakeWatch, BypassEndsTheTakeAsBypassed) {
    TakesHost host(TakeWay::recordingPass);
    host.block.recording = true;
    host.run(5000, 500);
    host.block.bypassed = true;
    host.run(500, 500);
    ASSERT_EQ(host.edges.size(), 2U);
    expectEnd(host.edges[1], 5000, 5.0, TakeEnd::bypassed);
}

TEST(TakeWatch, JumpEndsTheTakeAndRecordingBeginsTheNext) {
    TakesHost host(TakeWay::recordingPass);
    host.block.recording = true;
    host.run(5000, 500);
    host.jump(3.0);
    host.run(5000, 500);
    ASSERT_EQ(host.edges.size(), 4U);
    expectEnd(host.edges[1], 5000, 5.0, TakeEnd::jumped);
    expectBegin(host.edges[2], 6000, 4.0, 0);
    expectEnd(host.edges[3], 9000, 7.0, TakeEnd::whole);
}

TEST(TakeWatch, AnotherDrillUnderARunningTakeCutsIt) {
    TakesHost host(TakeWay::recordingPass);
    host.block.recording = true;
    host.run(5000, 500);
    WatchedBlock other = host.block;
    other.ppq = 5.0;
    other.samples = 500;
    other.takeStartPpq = 2.0;
    other.takeEndPpq = 20.0;
    const auto edges = host.watch.watch(other);
    ASSERT_EQ(edges.size(), 2U);
    expectEnd(edges[0], 5000, 5.0, TakeEnd::jumped);
    expectBegin(edges[1], 5000, 5.0, 0);
}

TEST(TakeWatch, EachPassOfALoopIsATake) {
    TakesHost host(TakeWay::loopPass);
    host.run(3000);
    EXPECT_TRUE(host.edges.empty()) << "not looping";
    host.block.looping = true;
    host.run(4500, 500); // to 7.5
    host.jump(3.5);
    host.run(4000, 500);
    host.jump(3.5);
    host.run(1000, 500); // to 4.5
    host.block.playing = false;
    host.run(500);
    ASSERT_EQ(host.edges.size(), 6U);
    expectEnd(host.edges[1], 7000, 7.0, TakeEnd::whole);
    expectBegin(host.edges[2], 8000, 4.0, 0);
    expectEnd(host.edges[3], 11000, 7.0, TakeEnd::whole);
    expectBegin(host.edges[4], 12000, 4.0, 0);
    expectEnd(host.edges[5], 12500, 4.5, TakeEnd::stopped);
}

TEST(TakeWatch, LoopInsideTheDrillGivesAPartialTakeAPass) {
    TakesHost host(TakeWay::loopPass, 5.0);
    host.block.looping = true;
    host.run(1000, 500);
    host.jump(5.0);
    host.run(1000, 500);
    host.jump(5.0);
    host.run(500, 500);
    ASSERT_EQ(host.edges.size(), 5U);
    expectEnd(host.edges[1], 1000, 6.0, TakeEnd::jumped);
    expectBegin(host.edges[2], 1000, 5.0, 0);
    expectEnd(host.edges[3], 2000, 6.0, TakeEnd::jumped);
}

TEST(TakeWatch, LoopThatEndsWithTheLastNoteGivesWholeTakes) {
    TakesHost host(TakeWay::loopPass, 4.0);
    host.block.looping = true;
    host.run(3000, 500);
    host.jump(4.0);
    host.run(500, 500);
    ASSERT_EQ(host.edges.size(), 3U);
    expectEnd(host.edges[1], 3000, 7.0, TakeEnd::whole);
    expectBegin(host.edges[2], 3000, 4.0, 0);
}

TEST(TakeWatch, PlayingTakesTellWhetherAnythingWasHeard) {
    TakesHost host(TakeWay::playing);
    host.block.heard = false;
    host.run(8000);
    host.run(4500);
    host.block.heard = true;
    host.run(64);
    host.block.heard = false;
    host.run(3500);
    ASSERT_EQ(host.edges.size(), 4U);
    EXPECT_FALSE(host.edges[1].heard);
    EXPECT_TRUE(host.edges[3].heard);
}

TEST(TakeWatch, SoundOfTheCountInAloneIsNotATakeHeard) {
    TakesHost host(TakeWay::playing);
    host.run(3500, 500);
    host.block.heard = false;
    host.run(4500, 500);
    ASSERT_EQ(host.edges.size(), 2U);
    EXPECT_FALSE(host.edges[1].heard);
}

TEST(TakeWatch, MarkInTheCountInAsksForOneTakeThatBeginsWithTheFirstNote) {
    TakesHost host(TakeWay::marker);
    host.run(1000, 500);
    host.block.marks = 1;
    host.step(500);
    host.run(14500, 500);
    ASSERT_EQ(host.edges.size(), 2U) << "one request, one take, though a second lap was played";
    expectBegin(host.edges[0], 4000, 4.0, 0);
    expectEnd(host.edges[1], 7000, 7.0, TakeEnd::whole);
}

TEST(TakeWatch, SecondMarkEndsTheTakeOrTakesTheRequestBack) {
    TakesHost host(TakeWay::marker);
    host.block.marks = 1;
    host.step(500);
    host.block.marks = 1;
    host.step(500);
    host.run(3500, 500);
    EXPECT_TRUE(host.edges.empty());
    host.block.marks = 1;
    host.step(500); // at 4.5
    host.run(500, 500);
    host.block.marks = 1;
    host.step(500);
    ASSERT_EQ(host.edges.size(), 2U);
    expectBegin(host.edges[0], 4500, 4.5, 0);
    expectEnd(host.edges[1], 5500, 5.5, TakeEnd::marked);
}

TEST(TakeWatch, TwoMarksInOneBlockCancelEachOther) {
    TakesHost host(TakeWay::marker);
    host.block.marks = 2;
    host.step(500);
    host.run(7000, 500);
    EXPECT_TRUE(host.edges.empty());
}

TEST(TakeWatch, HandWaitsForTheTransportAndIgnoresMarks) {
    TakesHost host(TakeWay::hand, 3.5);
    host.block.playing = false;
    host.block.handPresses = 1;
    host.step(500);
    host.block.marks = 1;
    host.step(500);
    host.block.playing = true;
    host.run(2000, 500);
    ASSERT_EQ(host.edges.size(), 1U);
    expectBegin(host.edges[0], 1500, 4.0, 0);
    host.block.playing = false;
    host.step(500);
    ASSERT_EQ(host.edges.size(), 2U);
    expectEnd(host.edges[1], 3000, 5.5, TakeEnd::stopped);
}

TEST(TakeWatch, PressInABlockOfNoSamplesCountsInTheNext) {
    TakesHost host(TakeWay::hand);
    host.block.handPresses = 1;
    host.step(0);
    host.run(4500, 500);
    ASSERT_EQ(host.edges.size(), 1U);
    expectBegin(host.edges[0], 4000, 4.0, 0);
}

TEST(TakeWatch, SwitchingTheWayEndsAnOpenTake) {
    TakesHost host(TakeWay::playing);
    host.run(5000, 500);
    host.watch.setWay(TakeWay::recordingPass);
    host.run(500, 500);
    ASSERT_EQ(host.edges.size(), 2U);
    expectEnd(host.edges[1], 5000, 5.0, TakeEnd::stopped);
}

TEST(TakeWatch, ClosingEndsAnOpenTakeWhereTheLastBlockEnded) {
    TakesHost host(TakeWay::playing);
    EXPECT_FALSE(host.watch.close());
    host.run(5000, 500);
    const auto edge = host.watch.close();
    ASSERT_TRUE(edge);
    expectEnd(*edge, 5000, 5.0, TakeEnd::stopped);
    EXPECT_FALSE(host.watch.open());
    EXPECT_FALSE(host.watch.close());
}

TEST(TakeWatch, LapsWithoutCountInOrRestFollowEachOtherAtOnce) {
    TakeWatch watch(TakeWay::playing);
    std::vector<TakeEdge> edges;
    WatchedBlock block;
    block.sampleRate = 1000.0;
    block.bpm = 60.0;
    block.playing = true;
    block.samples = 640;
    for (; block.startSample < 10000; block.startSample += block.samples) {
        block.ppq = static_cast<double>(block.startSample) / 1000.0;
        block.lap = static_cast<std::int64_t>(std::floor(*block.ppq / 2.0));
        block.takeStartPpq = static_cast<double>(block.lap) * 2.0;
        block.takeEndPpq = block.takeStartPpq + 2.0;
        block.lapQuarters = 2.0;
        for (const TakeEdge& edge : watch.watch(block))
            edges.push_back(edge);
    }
    ASSERT_EQ(edges.size(), 11U);
    for (std::size_t i = 1; i + 1 < edges.size(); i += 2) {
        const auto turn = static_cast<std::int64_t>(i / 2 + 1);
        expectEnd(edges[i], turn * 2000, static_cast<double>(turn) * 2.0, TakeEnd::whole);
        expectBegin(edges[i + 1], turn * 2000, static_cast<double>(turn) * 2.0, turn);
    }
}

TEST(TakeWatch, NamesOfTheWaysAreReadBack) {
    for (const TakeWay way :
         {TakeWay::recordingPass, TakeWay::loopPass, TakeWay::playing, TakeWay::marker, TakeWay::hand})
        EXPECT_EQ(parseTakeWay(name(way)), way);
    EXPECT_EQ(parseTakeWay("Recording-Pass"), std::nullopt);
    EXPECT_STREQ(name(TakeWay::recordingPass), "recording-pass");
    EXPECT_STREQ(name(TakeEnd::whole), "whole");
    EXPECT_STREQ(name(TakeEnd::late), "late");
}

TEST(TakeWatch, RubbishIsAStopAndNeverACrash) {
    constexpr double nan = std::numeric_limits<double>::quiet_NaN();
    constexpr double infinite = std::numeric_limits<double>::infinity();
    for (const double bad : {nan, infinite, -infinite, 1.0e300, -60.0, 0.0}) {
        for (int field = 0; field < 6; ++field) {
            TakesHost host(TakeWay::playing);
            host.run(5000, 500);
            WatchedBlock block = host.block;
            block.samples = 500;
            block.ppq = 5.0;
            double* const fields[] = {&*block.ppq,       &*block.bpm,        &block.sampleRate,
                                      &block.takeEndPpq, &block.lapQuarters, &block.takeStartPpq};
            *fields[field] = bad;
            block.startSample = field == 0 ? std::numeric_limits<std::int64_t>::max() : -5;
            const auto edges = host.watch.watch(block);
            for (const TakeEdge& edge : edges)
                EXPECT_GE(edge.sample, 4000);
            if (field == 1 || field == 2) {
                ASSERT_EQ(edges.size(), 1U);
                EXPECT_EQ(edges[0].end, TakeEnd::stopped);
            }
        }
    }
}

} // namespace
} // namespace valveladder::test
