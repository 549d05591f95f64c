#include "Guide/Guide.h"
#include "Guide/OwnClock.h"
#include "Support/FakeHost.h"
#include "Support/Scores.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace valveladder::test {
namespace {

GuideSettings clockOnly() {
    GuideSettings settings;
    settings.midiClock = true;
    settings.notes = settings.valveLanes = false;
    settings.click = ClickWhen::off;
    return settings;
}

/// Status bytes of the block, with the sample before each.
std::vector<std::pair<int, int>> statuses(Guide& guide, const HostBlock& block) {
    std::vector<std::pair<int, int>> found;
    for (const MidiEvent& event : guide.process(block, nullptr, clockOnly()))
        found.emplace_back(event.sample, event.bytes[0]);
    return found;
}

using Statuses = std::vector<std::pair<int, int>>;

TEST(ClockOut, StartsAtTheSongsTopWithStartAndTwentyFourPulsesAQuarter) {
    Guide guide;
    FakeHost host(120.0, 48000.0, 0.0); // a pulse each 1000 samples
    EXPECT_EQ(statuses(guide, host.next(2500)), (Statuses{{0, 0xFA}, {0, 0xF8}, {1000, 0xF8}, {2000, 0xF8}}));
    EXPECT_EQ(statuses(guide, host.next(500)), Statuses{});
    EXPECT_EQ(statuses(guide, host.next(1)), (Statuses{{0, 0xF8}}));
    host.block.playing = false;
    EXPECT_EQ(statuses(guide, host.next(64)), (Statuses{{0, 0xFC}}));
    EXPECT_EQ(statuses(guide, host.next(64)), Statuses{});
}

TEST(ClockOut, PreRollGivesTheTempoAndStartsAtTheTop) {
    Guide guide;
    FakeHost host(120.0, 48000.0, -1.0 / 24.0);
    EXPECT_EQ(statuses(guide, host.next(1001)), (Statuses{{0, 0xF8}, {1000, 0xFA}, {1000, 0xF8}}));
}

TEST(ClockOut, StartElsewherePlacesTheFollowerOnTheNextSixteenth) {
    Guide guide;
    FakeHost host(120.0, 48000.0, 50.0 + 5.0 / 24.0); // one pulse before sixteenth 201
    std::vector<MidiEvent> events;
    for (const MidiEvent& event : guide.process(host.next(1001), nullptr, clockOnly()))
        events.push_back(event);
    ASSERT_EQ(events.size(), 4U);
    EXPECT_EQ(events[0], (MidiEvent{0, 3, {0xF2, 201 & 0x7F, 201 >> 7}}));
    EXPECT_EQ(events[1], (MidiEvent{0, 1, {0xF8, 0, 0}}));
    EXPECT_EQ(events[2], (MidiEvent{1000, 1, {0xFB, 0, 0}}));
    EXPECT_EQ(events[3], (MidiEvent{1000, 1, {0xF8, 0, 0}}));
}

TEST(ClockOut, JumpStopsPlacesAndContinues) {
    Guide guide;
    FakeHost host(120.0, 48000.0, 0.0);
    (void)statuses(guide, host.next(64));
    host.block.ppq = 8.0;
    EXPECT_EQ(statuses(guide, host.next(64)), (Statuses{{0, 0xFC}, {0, 0xF2}, {0, 0xFB}, {0, 0xF8}}));
    host.block.ppq = 0.0;
    EXPECT_EQ(statuses(guide, host.next(64)), (Statuses{{0, 0xFC}, {0, 0xFA}, {0, 0xF8}}));
}

TEST(ClockOut, PastTheLastSongPositionTheFollowerContinuesUnplaced) {
    Guide guide;
    EXPECT_EQ(statuses(guide, FakeHost(120.0, 48000.0, 16383.0 / 4.0).next(1)),
              (Statuses{{0, 0xF2}, {0, 0xFB}, {0, 0xF8}}));
    Guide far;
    EXPECT_EQ(statuses(far, FakeHost(120.0, 48000.0, 16384.0 / 4.0).next(1)),
              (Statuses{{0, 0xFB}, {0, 0xF8}}));
}

HostBlock idle(int samples, double rate = 48000.0) {
    HostBlock block;
    block.samples = samples;
    block.sampleRate = rate;
    return block;
}

TEST(OwnClock, RollsFromWhereItWasStartedWithoutDrift) {
    OwnClock clock;
    ASSERT_TRUE(clock.start(-2.0, 97.0));
    HostBlock block;
    constexpr int blocks = 100000;
    for (int i = 0; i <= blocks; ++i)
        block = clock.lead(idle(441, 44100.0), 0.0, 32.0);
    EXPECT_TRUE(block.playing);
    EXPECT_DOUBLE_EQ(*block.bpm, 97.0);
    EXPECT_NEAR(*block.ppq, -2.0 + blocks * 0.01 * 97.0 / 60.0, 1e-8);
}

TEST(OwnClock, NewTempoWaitsForTheNextLapAndTheBlockAfterItLiesWhereItPutsIt) {
    OwnClock clock;
    clock.start(0.0, 60.0);
    (void)clock.lead(idle(48000), 0.0, 4.0);
    ASSERT_TRUE(clock.requestTempo(120.0));
    HostBlock block = clock.lead(idle(96000), 0.0, 4.0); // from 1 to 3
    EXPECT_DOUBLE_EQ(*block.bpm, 60.0);
    block = clock.lead(idle(96000), 0.0, 4.0); // from 3: one second at 60, one at 120
    EXPECT_DOUBLE_EQ(*block.bpm, 60.0);
    EXPECT_DOUBLE_EQ(*block.ppq, 3.0);
    block = clock.lead(idle(64), 0.0, 4.0);
    EXPECT_DOUBLE_EQ(*block.bpm, 120.0);
    EXPECT_NEAR(*block.ppq, 6.0, 1e-9);
}

TEST(OwnClock, RequestOnTheBoundaryItselfIsTakenUpAtOnce) {
    OwnClock clock;
    clock.start(8.0, 60.0);
    clock.requestTempo(90.0);
    EXPECT_DOUBLE_EQ(*clock.lead(idle(64), 0.0, 4.0).bpm, 90.0);
}

TEST(OwnClock, WithoutLapsANewTempoIsTakenUpAtOnce) {
    OwnClock clock;
    clock.start(1.5, 60.0);
    (void)clock.lead(idle(48000), 0.0, 0.0);
    clock.requestTempo(90.0);
    const HostBlock block = clock.lead(idle(64), 0.0, std::nan(""));
    EXPECT_DOUBLE_EQ(*block.bpm, 90.0);
    EXPECT_NEAR(*block.ppq, 2.5, 1e-9);
}

TEST(OwnClock, ChangedSampleRateLeavesThePositionWhereItWas) {
    OwnClock clock;
    clock.start(0.0, 60.0);
    (void)clock.lead(idle(48000), 0.0, 16.0);
    EXPECT_NEAR(*clock.lead(idle(96000, 96000.0), 0.0, 16.0).ppq, 1.0, 1e-9);
    EXPECT_NEAR(*clock.lead(idle(64, 96000.0), 0.0, 16.0).ppq, 2.0, 1e-9);
}

TEST(OwnClock, RubbishIsRefused) {
    OwnClock clock;
    EXPECT_FALSE(clock.start(std::nan(""), 60.0));
    EXPECT_FALSE(clock.start(0.0, 0.0));
    EXPECT_FALSE(clock.start(0.0, 1.0e9));
    EXPECT_FALSE(clock.running());
    EXPECT_FALSE(clock.lead(idle(64), 0.0, 4.0).playing);
    EXPECT_TRUE(clock.start(0.0, 60.0));
    EXPECT_FALSE(clock.requestTempo(std::nan("")));
    EXPECT_FALSE(clock.lead(idle(64, 0.0), 0.0, 4.0).playing);
    EXPECT_TRUE(clock.lead(idle(-5), 0.0, 4.0).playing);
    EXPECT_DOUBLE_EQ(*clock.lead(idle(64), 0.0, 4.0).ppq, 0.0);
}

TEST(OwnClock, GuideFollowsATempoStepWithoutLosingOrDoublingANote) {
    const GuideTrack track(ladderScore());
    const double lap = static_cast<double>(track.score().length) / ticksPerQuarter;
    OwnClock clock;
    clock.start(0.0, 200.0);
    Guide guide;
    int ons = 0;
    int offs = 0;
    GuideSettings settings;
    settings.click = ClickWhen::off;
    double bpm = 200.0;
    for (double ppq = 0.0; ppq < 4.0 * lap - 0.5;) {
        const HostBlock block = clock.lead(idle(1021), 0.0, lap);
        ppq = *block.ppq;
        clock.requestTempo(bpm += 0.01);
        for (const MidiEvent& event : guide.process(block, &track, settings)) {
            ons += event.isNoteOn() ? 1 : 0;
            offs += event.isNoteOff() ? 1 : 0;
        }
    }
    EXPECT_EQ(ons, 4 * static_cast<int>(track.score().notes.size()));
    EXPECT_EQ(offs, ons);
}

} // namespace
} // namespace valveladder::test
