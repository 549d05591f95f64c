// Hosts that tell quarters and a tempo that is not the one they play: on a ramp its first tempo, at another
// speed of the transport the tempo as written.

#include "Plugin/PlayedTempo.h"

#include "Host/DefaultScore.h"
#include "Host/ExpectedGuide.h"
#include "Host/HostRig.h"
#include "Host/TempLog.h"

#include <gtest/gtest.h>

#include <cmath>

namespace valveladder::host {

namespace {

constexpr double rate = 48000.0;

class PlayedTempoHost : public testing::Test {
protected:
    void SetUp() override {
        if (!std::filesystem::exists(builtPlugin(Format::vst3)))
            GTEST_SKIP() << "this build has no VST3";
    }
    static std::unique_ptr<HostRig> load(int samples) {
        std::string error;
        auto rig = HostRig::load(Format::vst3, rate, samples, error);
        EXPECT_NE(rig, nullptr) << error;
        if (rig)
            rig->ticksPerQuarter = 1920.0;
        return rig;
    }
    /// Every note of the score, within `ms` of its place by the tempos really played.
    static void expectScore(HostRig& rig, double ms) {
        rig.playing = false;
        rig.run(16);
        const auto expected = expectedNotes(defaultScore(), rig.told());
        const auto sent = sentNotes(rig.sent(), 1);
        ASSERT_GT(expected.size(), 5U);
        ASSERT_EQ(sent.size(), expected.size());
        for (std::size_t i = 0; i < sent.size(); ++i) {
            EXPECT_EQ(sent[i].pitch, expected[i].pitch) << "note " << i;
            EXPECT_NEAR(static_cast<double>(sent[i].on), static_cast<double>(expected[i].on),
                        ms / 1000.0 * rate)
                << "note " << i;
            EXPECT_NEAR(static_cast<double>(sent[i].off), static_cast<double>(expected[i].off),
                        ms / 1000.0 * rate)
                << "note " << i;
        }
    }

    TempLog log;
};

/// A tick, of which positions are told in halves, and as much again for the tempo measured by them.
double tickMs(double slowestBpm) {
    return 60000.0 / slowestBpm / 1920.0;
}

} // namespace

TEST_F(PlayedTempoHost, RampToldByItsFirstTempoLosesNoNote) {
    for (const int samples : {16, 64, 256, 1024, 4096})
        for (const double last : {60.0, 130.0, 220.0}) {
            SCOPED_TRACE(testing::Message() << samples << " samples, 90 to " << last);
            const auto rig = load(samples);
            ASSERT_NE(rig, nullptr);
            rig->playing = true;
            rig->toldBpm = 90.0;
            rig->bpm = 90.0;
            rig->rollTo(4.0, samples);
            for (const double from = rig->ppq; rig->ppq < 24.0; rig->run(samples))
                rig->bpm = 90.0 + (last - 90.0) * (rig->ppq - from) / 20.0;
            rig->toldBpm = rig->bpm = last;
            rig->rollTo(29.9, samples); // short of a note, whose side of the end is rounding
            // In the first block of the ramp nothing tells of it yet, and its tempo is that of the blocks
            // before.
            const double block = 1000.0 * samples / rate;
            const double slope =
                std::abs(last - 90.0) / 20.0 / 60.0; // share of itself a block of a quarter rises
            expectScore(*rig, 2.0 * tickMs(60.0) + block * slope * block / 1000.0 * 2.0);
        }
}

TEST_F(PlayedTempoHost, VarispeedToldAtTheWrittenTempoLosesNoNote) {
    for (const int samples : {16, 441, 2048})
        for (const double speed : {0.6, 0.8, 1.25}) {
            SCOPED_TRACE(testing::Message() << samples << " samples, speed " << speed);
            const auto rig = load(samples);
            ASSERT_NE(rig, nullptr);
            for (const double written : {100.0, 132.0}) {
                rig->speed = speed;
                rig->toldBpm = written;
                rig->bpm = written * speed;
                rig->rollTo(rig->ppq + 10.7, samples); // not at a note's place
            }
            expectScore(*rig, 2.0 * tickMs(60.0));
        }
}

TEST_F(PlayedTempoHost, NoteAtTheVeryStartUnderVarispeedIsNotCut) {
    const double first = static_cast<double>(defaultScore().notes.front().onset) / ticksPerQuarter;
    const auto rig = load(256);
    ASSERT_NE(rig, nullptr);
    rig->ppq = first;
    rig->speed = 0.7;
    rig->toldBpm = 120.0;
    rig->bpm = 84.0;
    rig->rollTo(first + 5.9, 256);
    expectScore(*rig, 2.0 * tickMs(60.0));
}

TEST_F(PlayedTempoHost, SpeedTurnedWhilePlayingLosesNoNote) {
    const auto rig = load(256);
    ASSERT_NE(rig, nullptr);
    rig->playing = true;
    rig->toldBpm = 120.0;
    for (int i = 0; rig->ppq < 20.0; ++i) {
        rig->speed = 1.0 + 0.25 * std::sin(i * 0.01);
        rig->bpm = 120.0 * rig->speed;
        rig->run(256);
    }
    expectScore(*rig, 2.0 * tickMs(60.0));
}

TEST(PlayedTempo, ToldTempoIsTakenWhereItIsPlayed) {
    PlayedTempo tempo;
    HostBlock block;
    block.samples = 64;
    block.playing = true;
    double ppq = 0.0;
    for (std::int64_t frame = 0; frame < 480000; frame += 64) {
        const double bpm = frame < 240000 ? 73.5 : 131.25;
        block.ppq = std::round(ppq * 1920.0) / 1920.0;
        block.bpm = bpm;
        block.frame = frame;
        const HostBlock done = tempo.complete(block);
        ASSERT_DOUBLE_EQ(*done.bpm, bpm) << frame;
        ASSERT_EQ(done.playedOn, frame > 0);
        ppq += 64 * bpm / 60.0 / 48000.0;
    }
}

TEST(PlayedTempo, LocatingAndLoopingIsNotPlayingOn) {
    PlayedTempo tempo;
    HostBlock block;
    block.samples = 512;
    block.playing = true;
    block.bpm = 120.0;
    const auto at = [&](std::int64_t frame) {
        block.frame = frame;
        block.ppq = static_cast<double>(frame) / 24000.0;
        return tempo.complete(block).playedOn;
    };
    EXPECT_FALSE(at(0));
    EXPECT_TRUE(at(512));
    EXPECT_FALSE(at(48000)) << "forwards";
    EXPECT_TRUE(at(48512));
    EXPECT_FALSE(at(24000)) << "back";
    block.looping = true;
    EXPECT_TRUE(at(24512));
    EXPECT_FALSE(at(24200)) << "back by less than a block";
    EXPECT_FALSE(at(24200 + 300)) << "in a loop every step but a block's is a turn";
    block.playing = false;
    EXPECT_FALSE(at(24500 + 512));
    block.playing = true;
    EXPECT_FALSE(at(24500 + 512)) << "after a stop";
}

TEST(PlayedTempo, PositionThatLeapsWhileFramesGoOnIsAJump) {
    PlayedTempo tempo;
    HostBlock block;
    block.samples = 512;
    block.playing = true;
    block.bpm = 120.0;
    for (int i = 0; i < 100; ++i) {
        block.frame = i * 512;
        block.ppq = i * 512 / 24000.0 + (i >= 50 ? 8.0 : 0.0);
        const HostBlock done = tempo.complete(block);
        EXPECT_EQ(done.playedOn, i != 0 && i != 50) << i;
        EXPECT_DOUBLE_EQ(*done.bpm, 120.0) << i;
    }
}

TEST(PlayedTempo, RubbishIsPassedOnAsItCame) {
    PlayedTempo tempo;
    HostBlock block;
    block.samples = 64;
    block.playing = true;
    block.ppq = std::nan("");
    block.bpm = -3.0;
    block.frame = std::numeric_limits<std::int64_t>::min();
    EXPECT_FALSE(tempo.complete(block).playedOn);
    block.ppq = 1.0;
    block.bpm = 120.0;
    EXPECT_FALSE(tempo.complete(block).playedOn);
    block.frame = std::numeric_limits<std::int64_t>::max();
    EXPECT_FALSE(tempo.complete(block).playedOn);
    block.frame.reset();
    EXPECT_FALSE(tempo.complete(block).playedOn);
    EXPECT_DOUBLE_EQ(*tempo.complete(block).bpm, 120.0);
}

} // namespace valveladder::host
