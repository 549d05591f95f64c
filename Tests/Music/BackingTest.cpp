#include "Music/Backing.h"
#include "Files/BackingFile.h"
#include "Score/Score.h"

#include <gtest/gtest.h>

#include <algorithm>
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

} // namespace

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
