#include "Guide/Guide.h"
#include "Support/AllocationWatch.h"
#include "Support/FakeHost.h"
#include "Support/Scores.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <memory>
#include <vector>

namespace valveladder::test {
namespace {

const Combination noValve{0};
const Combination firstSecond{0b0011};

/// C4 at quarter 4 with valves 1-2, D4 at quarter 5 open; 8 quarters. At 120 bpm and 48 kHz a quarter is
/// 24000 samples.
GuideTrack twoNotes() {
    return GuideTrack(smallScore({{4.0, 1.0, 60, firstSecond}, {5.0, 1.0, 62, noValve}}));
}

GuideSettings notesOnly() {
    GuideSettings settings;
    settings.click = ClickWhen::off;
    settings.valveLanes = false;
    return settings;
}

std::vector<MidiEvent> copy(std::span<const MidiEvent> events) {
    return {events.begin(), events.end()};
}

TEST(Guide, NoteLiesAtItsSampleOfTheBlock) {
    const GuideTrack track = twoNotes();
    Guide guide;
    FakeHost host(120.0, 48000.0, 3.99);
    const auto events = copy(guide.process(host.next(4096), &track, notesOnly()));
    ASSERT_EQ(events.size(), 1U);
    EXPECT_EQ(events[0], (MidiEvent{240, 3, {0x90, 60, 80}}));
    EXPECT_TRUE(guide.sounding());
}

TEST(Guide, EventOnTheBlocksEndBelongsToTheNext) {
    const GuideTrack track = twoNotes();
    Guide guide;
    FakeHost host(120.0, 48000.0, 3.99);
    EXPECT_TRUE(guide.process(host.next(240), &track, notesOnly()).empty());
    const auto events = copy(guide.process(host.next(1), &track, notesOnly()));
    ASSERT_EQ(events.size(), 1U);
    EXPECT_EQ(events[0].sample, 0);
}

TEST(Guide, NoteOffComesBeforeTheNextNoteOnOfTheSameSample) {
    const GuideTrack track = twoNotes();
    Guide guide;
    FakeHost host(120.0, 48000.0, 4.0);
    const auto events = copy(guide.process(host.next(30000), &track, notesOnly()));
    ASSERT_EQ(events.size(), 3U);
    EXPECT_EQ(events[1], (MidiEvent{24000, 3, {0x80, 60, 64}}));
    EXPECT_EQ(events[2], (MidiEvent{24000, 3, {0x90, 62, 80}}));
}

TEST(Guide, LoopJumpEndsSoundingNoteAtFirstSample) {
    const GuideTrack track = twoNotes();
    Guide guide;
    FakeHost host(120.0, 48000.0, 4.0);
    (void)guide.process(host.next(512), &track, notesOnly());
    host.block.ppq = 1.0;
    const auto events = copy(guide.process(host.next(512), &track, notesOnly()));
    ASSERT_EQ(events.size(), 1U);
    EXPECT_EQ(events[0], (MidiEvent{0, 3, {0x80, 60, 64}}));
}

TEST(Guide, WrapInsideABlockEndsTheNoteAtTheWrapAndGoesOnFromTheLoopsStart) {
    const GuideTrack track = twoNotes();
    Guide guide;
    FakeHost host(120.0, 48000.0, 4.25);
    (void)guide.process(host.next(0), &track, notesOnly());
    host.block.ppq = 4.0;
    host.block.looping = true;
    host.block.loopStartPpq = 4.0;
    host.block.loopEndPpq = 4.5;
    const auto events = copy(guide.process(host.next(30000), &track, notesOnly()));
    ASSERT_EQ(events.size(), 5U);
    EXPECT_EQ(events[0].sample, 0);
    EXPECT_EQ(events[1], (MidiEvent{12000, 3, {0x80, 60, 64}}));
    EXPECT_EQ(events[2], (MidiEvent{12000, 3, {0x90, 60, 80}}));
    EXPECT_EQ(events[3].sample, 24000);
    EXPECT_EQ(events[4].sample, 24000);
    host.block.ppq = 4.25; // where such a host stands after 30000 samples
    EXPECT_TRUE(guide.process(host.next(5999), &track, notesOnly()).empty());
}

TEST(Guide, BlockThatStartsWithinHalfASampleOfTheLoopsEndIsInTheNextPass) {
    const GuideTrack track = twoNotes();
    Guide guide;
    FakeHost host(120.0, 48000.0, 4.25);
    host.block.looping = true;
    host.block.loopStartPpq = 4.0;
    host.block.loopEndPpq = 5.0;
    host.block.ppq = 5.0 - 0.4 / 24000.0;
    const auto events = copy(guide.process(host.next(512), &track, notesOnly()));
    ASSERT_EQ(events.size(), 1U);
    EXPECT_EQ(events[0], (MidiEvent{0, 3, {0x90, 60, 80}}));
    host.block.ppq = 4.0 + 511.6 / 24000.0;
    EXPECT_TRUE(guide.process(host.next(512), &track, notesOnly()).empty());
}

TEST(Guide, StopAndBypassEndTheNoteAndRaiseTheValvesAtTheFirstSample) {
    const GuideTrack track = twoNotes();
    for (const bool bypass : {false, true}) {
        GuideSettings settings = notesOnly();
        settings.valveLanes = true;
        Guide guide;
        FakeHost host(120.0, 48000.0, 4.0);
        ASSERT_EQ(guide.process(host.next(512), &track, settings).size(), 3U);
        (bypass ? host.block.bypassed : host.block.playing) = bypass;
        const auto events = copy(guide.process(host.next(512), &track, settings));
        ASSERT_EQ(events.size(), 3U);
        EXPECT_EQ(events[0], (MidiEvent{0, 3, {0x80, 60, 64}}));
        EXPECT_EQ(events[1], (MidiEvent{0, 3, {0xB0, 20, 0}}));
        EXPECT_EQ(events[2], (MidiEvent{0, 3, {0xB0, 21, 0}}));
        EXPECT_TRUE(guide.process(host.next(512), &track, settings).empty());
    }
}

TEST(Guide, SwappingTheTrackOrTakingItAwayEndsTheNote) {
    const GuideTrack track = twoNotes();
    const GuideTrack other(smallScore({{4.1, 1.0, 70, noValve}}));
    Guide guide;
    FakeHost host(120.0, 48000.0, 4.0);
    (void)guide.process(host.next(512), &track, notesOnly());
    const auto swapped = copy(guide.process(host.next(4096), &other, notesOnly()));
    ASSERT_EQ(swapped.size(), 2U);
    EXPECT_EQ(swapped[0], (MidiEvent{0, 3, {0x80, 60, 64}}));
    EXPECT_EQ(swapped[1], (MidiEvent{2400 - 512, 3, {0x90, 70, 80}}));
    const auto gone = copy(guide.process(host.next(64), nullptr, notesOnly()));
    ASSERT_EQ(gone.size(), 1U);
    EXPECT_EQ(gone[0], (MidiEvent{0, 3, {0x80, 70, 64}}));
}

TEST(Guide, TrackRebuiltAtTheSameAddressIsANewTrack) {
    auto track = std::make_unique<GuideTrack>(smallScore({{4.0, 1.0, 60, noValve}}));
    Guide guide;
    FakeHost host(120.0, 48000.0, 4.0);
    (void)guide.process(host.next(512), track.get(), notesOnly());
    *track = GuideTrack(smallScore({{4.0, 1.0, 61, noValve}}));
    const auto events = copy(guide.process(host.next(512), track.get(), notesOnly()));
    ASSERT_EQ(events.size(), 1U);
    EXPECT_EQ(events[0], (MidiEvent{0, 3, {0x80, 60, 64}}));
}

TEST(Guide, SwitchingOnePartLeavesTheOthersSounding) {
    const GuideTrack track = twoNotes();
    GuideSettings settings;
    settings.valveLanes = false;
    Guide guide;
    FakeHost host(120.0, 48000.0, 4.0);
    ASSERT_EQ(guide.process(host.next(64), &track, settings).size(), 2U);
    settings.notes = false;
    const auto noteOff = copy(guide.process(host.next(64), &track, settings));
    ASSERT_EQ(noteOff.size(), 1U);
    EXPECT_EQ(noteOff[0], (MidiEvent{0, 3, {0x80, 60, 64}}));
    EXPECT_TRUE(guide.sounding());
    settings.click = ClickWhen::off;
    const auto clickOff = copy(guide.process(host.next(64), &track, settings));
    ASSERT_EQ(clickOff.size(), 1U);
    EXPECT_EQ(clickOff[0], (MidiEvent{0, 3, {0x89, 76, 64}}));
    EXPECT_FALSE(guide.sounding());
}

TEST(Guide, ChangedChannelEndsTheNoteOnTheOldOneAndMovesTheValves) {
    const GuideTrack track = twoNotes();
    GuideSettings settings = notesOnly();
    settings.valveLanes = true;
    Guide guide;
    FakeHost host(120.0, 48000.0, 4.0);
    (void)guide.process(host.next(64), &track, settings);
    settings.noteChannel = 3;
    const auto events = copy(guide.process(host.next(64), &track, settings));
    const std::vector<MidiEvent> expected{{0, 3, {0x80, 60, 64}},
                                          {0, 3, {0xB0, 20, 0}},
                                          {0, 3, {0xB0, 21, 0}},
                                          {0, 3, {0xB2, 20, 127}},
                                          {0, 3, {0xB2, 21, 127}}};
    EXPECT_EQ(events, expected);
}

TEST(Guide, JumpIntoANoteLeavesItOutButShowsItsValves) {
    const GuideTrack track = twoNotes();
    GuideSettings settings = notesOnly();
    settings.valveLanes = true;
    Guide guide;
    FakeHost host(120.0, 48000.0, 4.5);
    const auto events = copy(guide.process(host.next(64), &track, settings));
    const std::vector<MidiEvent> expected{{0, 3, {0xB0, 20, 127}}, {0, 3, {0xB0, 21, 127}}};
    EXPECT_EQ(events, expected);
    EXPECT_FALSE(guide.sounding());
}

TEST(Guide, ValvesMoveBeforeTheNoteThatNeedsThemAndRiseAtTheSpansEnd) {
    const GuideTrack track(smallScore({{4.0, 1.0, 60, firstSecond}}));
    GuideSettings settings;
    settings.click = ClickWhen::off;
    Guide guide;
    FakeHost host(120.0, 48000.0, 4.0);
    const auto events = copy(guide.process(host.next(24001), &track, settings));
    ASSERT_EQ(events.size(), 6U);
    EXPECT_TRUE(events[0].isController());
    EXPECT_TRUE(events[1].isController());
    EXPECT_TRUE(events[2].isNoteOn());
    EXPECT_TRUE(events[3].isNoteOff());
    EXPECT_EQ(events[4], (MidiEvent{24000, 3, {0xB0, 20, 0}}));
    EXPECT_EQ(events[5], (MidiEvent{24000, 3, {0xB0, 21, 0}}));
}

TEST(Guide, TempoChangeInsideABlockLosesAndDoublesNothing) {
    // The host reports 60 bpm, but half way through its block the tempo is 240: its next position lies far
    // beyond what the block said. The note in between comes at once, and only once.
    const GuideTrack track(smallScore({{4.0, 0.25, 60, noValve}}));
    Guide guide;
    HostBlock block;
    block.playing = true;
    block.samples = 4096;
    block.bpm = 60.0;
    block.ppq = 3.85;
    EXPECT_TRUE(guide.process(block, &track, notesOnly()).empty());
    block.ppq = 3.85 + 2048.0 / 48000.0 + 4.0 * 2048.0 / 48000.0;
    block.bpm = 240.0;
    ASSERT_GT(*block.ppq, 4.0);
    const auto events = copy(guide.process(block, &track, notesOnly()));
    ASSERT_EQ(events.size(), 2U);
    EXPECT_EQ(events[0], (MidiEvent{0, 3, {0x90, 60, 80}}));
    EXPECT_EQ(events[1].sample, 2240); // 0.18667 quarters of 12000 samples on
}

TEST(Guide, HostThatRoundsItsPositionsToTicksIsNotJumping) {
    const GuideTrack track(ladderScore());
    Guide guide;
    FakeHost host(97.0, 48000.0, 0.0);
    int notes = 0;
    for (int i = 0; i < 60000; ++i) {
        HostBlock block = host.next(32);
        block.ppq = std::floor(*block.ppq * 480.0) / 480.0;
        for (const MidiEvent& event : guide.process(block, &track, notesOnly()))
            notes += event.isNoteOn() ? 1 : 0;
    }
    const double quarters = *host.block.ppq;
    int expected = 0;
    for (const ScoreNote& note : track.score().notes)
        expected += static_cast<double>(note.onset) / ticksPerQuarter < quarters ? 1 : 0;
    EXPECT_EQ(notes, expected);
    EXPECT_GT(notes, 20);
}

TEST(Guide, DrillThatDoesNotRepeatFallsSilentAtItsEnd) {
    const GuideTrack track = twoNotes();
    GuideSettings settings;
    settings.repeat = false;
    Guide guide;
    FakeHost host(120.0, 48000.0, 7.9);
    (void)guide.process(host.next(2400), &track, settings);
    EXPECT_TRUE(guide.process(host.next(100000), &track, settings).empty());
    settings.repeat = true;
    FakeHost again(120.0, 48000.0, 7.9);
    (void)guide.process(again.next(2400), &track, settings);
    EXPECT_FALSE(guide.process(again.next(100000), &track, settings).empty());
}

TEST(Guide, PreRollIsSilentUntilTheScoreStarts) {
    const GuideTrack track = twoNotes();
    Guide guide;
    FakeHost host(120.0, 48000.0, -1.0);
    const auto events = copy(guide.process(host.next(24001), &track, {}));
    ASSERT_EQ(events.size(), 1U);
    EXPECT_EQ(events[0], (MidiEvent{24000, 3, {0x99, 76, 112}}));
}

TEST(Guide, KeySharedByNoteAndClickIsNeverOnTwice) {
    const GuideTrack track(smallScore({{4.0, 4.0, 76, noValve}}));
    GuideSettings settings;
    settings.clickChannel = settings.noteChannel;
    settings.clickLow = 76;
    Guide guide;
    FakeHost host(120.0, 48000.0, 3.5);
    int open = 0;
    for (const MidiEvent& event : copy(guide.process(host.next(200000), &track, settings))) {
        open += event.isNoteOn() ? 1 : event.isNoteOff() ? -1 : 0;
        ASSERT_GE(open, 0);
        ASSERT_LE(open, 1);
    }
}

TEST(Guide, FullBlockKeepsTheRestForTheNextOne) {
    std::vector<SmallNote> notes;
    for (int i = 0; i < 2000; ++i)
        notes.push_back({i * 0.002, 0.002, 60 + i % 12, noValve});
    const GuideTrack track(smallScore(notes, 4.0, 0.0));
    GuideSettings settings = notesOnly();
    settings.repeat = false;
    Guide guide;
    FakeHost host(120.0, 48000.0, 0.0);
    int ons = 0;
    int offs = 0;
    for (int block = 0; block < 8; ++block)
        for (const MidiEvent& event : guide.process(host.next(100000), &track, settings)) {
            ons += event.isNoteOn() ? 1 : 0;
            offs += event.isNoteOff() ? 1 : 0;
        }
    EXPECT_EQ(ons, 2000);
    EXPECT_EQ(offs, 2000);
}

TEST(Guide, FullBlockBeforeAWrapFallsSilentAtTheWrap) {
    std::vector<SmallNote> notes;
    for (int i = 0; i < 2000; ++i)
        notes.push_back({i * 0.002, 0.002, 60 + i % 12, noValve});
    const GuideTrack track(smallScore(notes, 4.0, 0.0));
    Guide guide;
    FakeHost host(120.0, 48000.0, 0.0);
    host.block.looping = true;
    host.block.loopStartPpq = 0.0;
    host.block.loopEndPpq = 3.0;
    (void)guide.process(host.next(100000), &track, notesOnly());
    EXPECT_FALSE(guide.sounding());
}

TEST(Guide, RubbishFromTheHostIsAStopAndNeverACrash) {
    const GuideTrack track = twoNotes();
    constexpr double nan = std::numeric_limits<double>::quiet_NaN();
    constexpr double infinite = std::numeric_limits<double>::infinity();
    for (const double bad : {nan, infinite, -infinite, 1.0e300, -1.0e300, 0.0, -60.0, 1.0e9}) {
        Guide guide;
        FakeHost host(120.0, 48000.0, 4.0);
        (void)guide.process(host.next(64), &track, {});
        HostBlock block = host.next(64);
        block.bpm = bad;
        (void)guide.process(block, &track, {});
        EXPECT_FALSE(guide.sounding()) << "bpm " << bad;
        block = FakeHost(120.0, 48000.0, 4.0).next(64);
        (void)guide.process(block, &track, {});
        block.sampleRate = bad;
        (void)guide.process(block, &track, {});
        EXPECT_FALSE(guide.sounding()) << "rate " << bad;
        block = FakeHost(120.0, 48000.0, 4.0).next(64);
        (void)guide.process(block, &track, {});
        if (bad != 0.0 && bad != -60.0) {
            block.ppq = bad;
            (void)guide.process(block, &track, {});
            EXPECT_FALSE(guide.sounding()) << "ppq " << bad;
        }
        block = FakeHost(120.0, 48000.0, 4.0).next(64);
        block.looping = true;
        block.loopStartPpq = bad;
        block.loopEndPpq = 4.0001;
        (void)guide.process(block, &track, {});
        GuideSettings settings;
        settings.startPpq = bad;
        settings.noteChannel = 99;
        settings.clickLow = -5;
        for (const MidiEvent& event : guide.process(block, &track, settings))
            EXPECT_LT(event.bytes[1], 128);
    }
}

TEST(Guide, BlockOfNoSamplesIsNoBlock) {
    const GuideTrack track = twoNotes();
    Guide guide;
    FakeHost host(120.0, 48000.0, 4.0);
    (void)guide.process(host.next(64), &track, {});
    for (const int samples : {0, -1, std::numeric_limits<int>::min()}) {
        HostBlock none;
        none.samples = samples;
        EXPECT_TRUE(guide.process(none, &track, {}).empty());
    }
    EXPECT_TRUE(guide.sounding());
    EXPECT_TRUE(guide.process(host.next(64), &track, {}).empty());
}

TEST(Guide, AbsurdScoresAreSilentOrPlayedButNeverACrash) {
    Score zero = smallScore({{0.0, 1.0, 60, noValve}});
    zero.length = 0;
    Score odd = smallScore({{0.0, 1.0, 300, noValve}, {-3.0, 1.0, 60, noValve}, {7.5, 9.0, -4, noValve}});
    odd.meter = {0, 0};
    Score flood = smallScore({{0.0, 1.0, 60, noValve}});
    flood.meter = {1000000, 1 << 30};
    Score tick = smallScore({{0.0, 1.0, 60, noValve}});
    tick.length = 1;
    for (const Score& score : {Score{}, zero, odd, flood, tick}) {
        const GuideTrack track(score);
        Guide guide;
        FakeHost host(999.0, 48000.0, -0.5);
        for (int i = 0; i < 200; ++i)
            for (const MidiEvent& event : guide.process(host.next(4096), &track, {}))
                ASSERT_LT(event.bytes[1], 128);
        host.block.playing = false;
        (void)guide.process(host.next(64), &track, {});
        EXPECT_FALSE(guide.sounding());
    }
}

TEST(Guide, ProcessAllocatesNothing) {
    const GuideTrack track(ladderScore());
    const GuideTrack other = twoNotes();
    Guide guide;
    FakeHost host(120.0, 48000.0, 0.0);
    std::size_t events = 0;
    GuideSettings settings;
    settings.midiClock = true;
    AllocationWatch watch;
    for (int i = 0; i < 2000; ++i) {
        if (i % 100 == 99)
            host.block.ppq = i % 7;
        events += guide.process(host.next(512), i % 300 < 250 ? &track : &other, settings).size();
    }
    EXPECT_EQ(watch.count(), 0U);
    EXPECT_GT(events, 500U);
}

TEST(AllocationWatch, SeesAPlantedAllocation) {
    AllocationWatch watch;
    auto planted = std::make_unique<std::vector<int>>(100);
    planted->push_back(1);
    EXPECT_GE(watch.count(), 2U);
}

} // namespace
} // namespace valveladder::test
