#include "Plugin/SparsePosition.h"

#include <gtest/gtest.h>

namespace valveladder::host {

namespace {

constexpr double rate = 48000.0;
constexpr int samples = 480;

/// What an LV2 host that gives frames and bars but no beats says.
HostReport report(std::int64_t frame, double bpm, std::int64_t bar, bool playing = true) {
    HostReport result;
    result.present = true;
    result.block.sampleRate = rate;
    result.block.samples = samples;
    result.block.playing = playing;
    result.block.bpm = bpm;
    result.block.meterBeats = 4;
    result.block.meterUnit = 4;
    result.frame = frame;
    result.bar = bar;
    return result;
}

HostReport silence() {
    HostReport result;
    result.block.sampleRate = rate;
    result.block.samples = samples;
    return result;
}

} // namespace

TEST(SparsePosition, NothingEverSaidStaysUnknown) {
    SparsePosition position;
    EXPECT_FALSE(position.complete(silence()).ppq.has_value());
    EXPECT_FALSE(position.complete(silence()).playing);
}

TEST(SparsePosition, SilenceMeansThatTimeGoesOn) {
    SparsePosition position;
    EXPECT_DOUBLE_EQ(*position.complete(report(0, 120.0, 0)).ppq, 0.0);
    for (int i = 1; i < 1000; ++i) {
        const HostBlock block = position.complete(silence());
        EXPECT_TRUE(block.playing);
        EXPECT_DOUBLE_EQ(*block.ppq, i * samples * 120.0 / 60.0 / rate);
    }
}

TEST(SparsePosition, StoppedStandsStill) {
    SparsePosition position;
    EXPECT_DOUBLE_EQ(*position.complete(report(48000, 120.0, 0, false)).ppq, 2.0);
    EXPECT_DOUBLE_EQ(*position.complete(silence()).ppq, 2.0);
    EXPECT_FALSE(position.complete(silence()).playing);
}

TEST(SparsePosition, NewTempoAtTheFollowingFrameContinues) {
    SparsePosition position;
    EXPECT_DOUBLE_EQ(*position.complete(report(0, 120.0, 0)).ppq, 0.0);
    EXPECT_DOUBLE_EQ(*position.complete(silence()).ppq, 0.02);
    const HostBlock faster = position.complete(report(960, 240.0, 0));
    EXPECT_DOUBLE_EQ(*faster.ppq, 0.04);
    EXPECT_DOUBLE_EQ(*position.complete(silence()).ppq, 0.08);
}

TEST(SparsePosition, NewTempoInsideABlockHoldsFromThatSample) {
    SparsePosition position;
    (void)position.complete(report(0, 120.0, 0));
    // Told for frame 600, which is sample 120 of the block that begins at 480.
    const HostBlock changed = position.complete(report(600, 60.0, 0));
    EXPECT_DOUBLE_EQ(*changed.ppq, 0.02);
    EXPECT_DOUBLE_EQ(*changed.bpm, 120.0);
    const HostBlock next = position.complete(silence());
    EXPECT_DOUBLE_EQ(*next.ppq, 600 * 2.0 / rate + 360 * 1.0 / rate);
    EXPECT_DOUBLE_EQ(*next.bpm, 60.0);
}

TEST(SparsePosition, PreRollBeforeZeroIsNotMistakenForTheFirstBar) {
    SparsePosition position;
    EXPECT_DOUBLE_EQ(*position.complete(report(-240, 120.0, 0)).ppq, -0.01);
    EXPECT_DOUBLE_EQ(*position.complete(silence()).ppq, 0.01);
}

TEST(SparsePosition, LocateWithinAConstantTempoIsExact) {
    SparsePosition position;
    (void)position.complete(report(0, 120.0, 0));
    EXPECT_DOUBLE_EQ(*position.complete(report(24000 * 9, 120.0, 2)).ppq, 9.0);
}

TEST(SparsePosition, LocateBehindATempoChangeFallsOnTheBarTold) {
    // Two bars at 60 and then 120: bar 3 begins at 8 + 2 s. The frame alone, at 120, would give 20 quarters.
    SparsePosition position;
    EXPECT_DOUBLE_EQ(*position.complete(report(480000, 120.0, 3)).ppq, 12.0);
}

TEST(SparsePosition, BeatsThatAreToldAreTaken) {
    SparsePosition position;
    HostReport told = report(0, 120.0, 0);
    told.block.ppq = 7.5;
    EXPECT_DOUBLE_EQ(*position.complete(told).ppq, 7.5);
}

} // namespace valveladder::host
