#include "Music/Backing.h"
#include "Files/BackingFile.h"
#include "Guide/Guide.h"
#include "Music/BackingCues.h"
#include "Score/Score.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace valveladder {

namespace {

const Instrument& trumpet() {
    return *findInstrument("trumpet-b-flat");
}

Score daily(double bpm) {
    return buildScore(defaultDrill(trumpet()), trumpet(), bpm).value();
}

BackingSettings everything() {
    BackingSettings settings;
    settings.pad = settings.bass = settings.drums = true;
    settings.clickChannel = 9; // apart from the drums, so that keys cannot meet
    return settings;
}

using Played = std::vector<std::pair<std::int64_t, std::array<std::uint8_t, 3>>>; ///< sample and message

constexpr double rate = 48000.0;

/// What the live guide sends on the backing's channels over `laps` laps at 60 bpm in blocks of `sizes`, in
/// turn.
Played live(const GuideTrack& track, const BackingSettings& like, int laps, const std::vector<int>& sizes) {
    GuideSettings settings;
    settings.notes = settings.valveLanes = false;
    settings.click = ClickWhen::off;
    settings.backing = {{like.drone, like.pad, like.bass, like.drums},
                        {like.droneChannel, like.padChannel, like.bassChannel, like.drumChannel}};
    const auto end =
        static_cast<std::int64_t>(laps * rate * static_cast<double>(track.score().length) / ticksPerQuarter);
    Guide guide;
    Played played;
    HostBlock block;
    block.playing = true;
    block.bpm = 60.0;
    std::size_t turn = 0;
    for (std::int64_t now = 0; now < end; now += block.samples) {
        block.samples = static_cast<int>(std::min<std::int64_t>(sizes[turn++ % sizes.size()], end - now));
        block.ppq = static_cast<double>(now) / rate;
        for (const MidiEvent& event : guide.process(block, &track, settings))
            played.push_back({now + event.sample, event.bytes});
    }
    block.playing = false;
    for (const MidiEvent& event : guide.process(block, &track, settings))
        played.push_back({end + event.sample, event.bytes});
    std::sort(played.begin(), played.end());
    return played;
}

/// What the backing's file holds, repeated, at the same tempo.
Played filed(const Score& score, const BackingSettings& settings, int laps) {
    const SessionTake take{&score, 60.0};
    const SmfFile file = backingFile({&take, 1}, settings, "Loop");
    Played played;
    for (int lap = 0; lap < laps; ++lap)
        for (const SmfTrack& track : file.tracks)
            for (const SmfEvent& event : track.events)
                if (event.bytes.size() == 3 && event.bytes[0] < 0xF0)
                    played.push_back({std::llround(static_cast<double>(lap * track.length + event.tick) *
                                                   rate / file.ticksPerQuarterNote),
                                      {event.bytes[0], event.bytes[1], event.bytes[2]}});
    std::sort(played.begin(), played.end());
    return played;
}

} // namespace

TEST(Backing, LiveIsTheFilesBackingSampleForSampleInBlocksOfAnySize) {
    const Score score = daily(60.0);
    const GuideTrack track(score, backingCues(score));
    BackingSettings all = everything();
    all.click = false;
    BackingSettings bassAlone = all;
    bassAlone.drone = bassAlone.pad = bassAlone.drums = false;
    for (const BackingSettings& settings : {all, bassAlone}) {
        const Played expected = filed(score, settings, 3);
        ASSERT_GT(expected.size(), 300U);
        for (const std::vector<int>& sizes :
             std::vector<std::vector<int>>{{512}, {4096}, {1, 700, 64, 2048, 33}})
            EXPECT_EQ(live(track, settings, 3, sizes), expected) << sizes.front();
    }
}

TEST(Backing, HostsLoopEndsWhatSoundsAndBeginsAnew) {
    const Score score = daily(60.0);
    const GuideTrack track(score, backingCues(score));
    GuideSettings settings;
    settings.notes = settings.valveLanes = false;
    settings.click = ClickWhen::off;
    settings.backing.on = {true, true, true, true};
    HostBlock block;
    block.playing = block.looping = true;
    block.bpm = 60.0;
    block.samples = 480;
    block.loopStartPpq = 4.0; // the first segment's start
    block.loopEndPpq = 6.0;   // in mid segment, while the drone holds
    Guide guide;
    std::map<std::pair<int, int>, int> sounding;
    int begun = 0;
    for (int i = 0; i < 1000; ++i) {
        block.ppq = 4.0 + std::fmod(i * 0.01, 2.0);
        for (const MidiEvent& event : guide.process(block, &track, settings)) {
            int& count = sounding[{event.channel(), event.bytes[1]}];
            count += event.isNoteOn() ? 1 : -1;
            begun += event.isNoteOn() && event.channel() == 2 ? 1 : 0;
            ASSERT_GE(count, 0);
            ASSERT_LE(count, 1);
        }
    }
    EXPECT_EQ(begun, 5); // one drone a pass: 1000 blocks are five passes
    block.playing = false;
    for (const MidiEvent& event : guide.process(block, &track, settings))
        --sounding[{event.channel(), event.bytes[1]}];
    for (const auto& [key, count] : sounding)
        EXPECT_EQ(count, 0);
    EXPECT_FALSE(guide.sounding());
}

TEST(Backing, LapIsWholeBarsAndEveryNoteEndsWithinIt) {
    for (const bool countIn : {true, false}) {
        BackingSettings settings = everything();
        settings.countIn = countIn;
        const Score score = daily(66.0);
        const Tick length = backingLength(score, settings);
        EXPECT_EQ(length % score.meter.barTicks(), 0);
        EXPECT_EQ(length, score.length - (countIn ? 0 : score.countInTicks));
        std::map<std::pair<int, int>, int> sounding; // channel and key
        for (const BackingEvent& event : backingEvents(score, settings)) {
            EXPECT_GE(event.tick, 0);
            EXPECT_LE(event.tick, length);
            int& count = sounding[{event.bytes[0] & 0x0F, event.bytes[1]}];
            count += event.begins ? 1 : -1;
            EXPECT_GE(count, 0);
            EXPECT_LE(count, 1) << "doubled at " << event.tick;
        }
        for (const auto& [key, count] : sounding)
            EXPECT_EQ(count, 0);
    }
}

TEST(Backing, DroneHoldsTheRungsRootThroughEachSegment) {
    BackingSettings settings;
    settings.click = false;
    const Score score = daily(60.0);
    const std::vector<BackingEvent> events = backingEvents(score, settings);
    ASSERT_EQ(events.size(), 2 * score.spans.size());
    // F sharp 3 written is E3 sounding, 52; an octave under it 40. Each rung starts a semitone higher.
    for (std::size_t i = 0; i < score.spans.size(); ++i) {
        EXPECT_EQ(events[2 * i].bytes[1], 40 + score.spans[i].rung);
        EXPECT_EQ(events[2 * i].tick, score.spans[i].start);
        EXPECT_EQ(events[2 * i + 1].tick, score.spans[i].end);
    }
}

TEST(Backing, BassFollowsTheRhythmOfEachSegment) {
    BackingSettings settings;
    settings.click = settings.drone = false;
    settings.bass = true;
    const Score score = daily(60.0);
    std::vector<Tick> onsets;
    for (const BackingEvent& event : backingEvents(score, settings))
        if (event.begins)
            onsets.push_back(event.tick);
    std::vector<Tick> expected;
    for (const ScoreNote& note : score.notes)
        expected.push_back(note.onset);
    EXPECT_EQ(onsets, expected);
}

TEST(Backing, SteppedSetLaysItsLapsEndToEnd) {
    const Score slow = daily(60.0);
    const Score quick = daily(64.0);
    const std::vector<SessionTake> takes{{&slow, 60.0}, {&quick, 64.0}};
    const SmfFile file = backingFile(takes, {}, "Set");
    const auto ticks = [&](Tick tick) { return tick * file.ticksPerQuarterNote / ticksPerQuarter; };
    std::vector<std::int64_t> tempos;
    for (const SmfEvent& event : file.tracks.front().events)
        if (event.bytes[0] == 0xFF && event.bytes[1] == 0x51)
            tempos.push_back(event.tick);
    EXPECT_EQ(tempos, (std::vector<std::int64_t>{0, ticks(slow.length)}));
    for (const SmfTrack& track : file.tracks)
        EXPECT_EQ(track.length, ticks(slow.length + quick.length));
}

} // namespace valveladder
