#include "Listening/GuideEcho.h"

#include "Guide/GuideTrack.h"
#include "Guide/OwnMessages.h"
#include "Support/Scores.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

namespace valveladder::test {
namespace {

constexpr double bpm = 90.0;

/// What the guide sends as a take would hold it, late by `seconds` and by a cable's jitter.
MidiTake guideLate(const Score& score, double seconds, double jitter = 0.0) {
    const TempoMap tempo(bpm);
    std::mt19937 random(5);
    std::uniform_real_distribution<double> off(0.0, jitter);
    MidiTake take;
    for (const ScoreNote& note : score.notes) {
        const double on = tempo.secondsAt(static_cast<double>(note.onset) / ticksPerQuarter) + seconds;
        take.notes.push_back({on + off(random), on + 0.1, note.sounding, note.velocity});
    }
    return take;
}

/// A hand: the same notes with scatter, and with velocities either of a hand or of a device that has one.
std::vector<PlayedNote> handPlays(const Score& score, double scatterSeconds, int fixedVelocity) {
    std::mt19937 random(7);
    std::normal_distribution<double> late(0.015, scatterSeconds);
    std::uniform_int_distribution<int> velocity(40, 110);
    std::vector<PlayedNote> notes;
    for (const ScoreNote& note : score.notes) {
        const double on =
            TempoMap(bpm).secondsAt(static_cast<double>(note.onset) / ticksPerQuarter) + late(random);
        notes.push_back({on, on + 0.1, note.sounding, fixedVelocity > 0 ? fixedVelocity : velocity(random)});
    }
    return notes;
}

void sortByTime(MidiTake& take) {
    std::ranges::stable_sort(take.notes, {}, &PlayedNote::onset);
}

MidiEvent noteOn(int channel, int key) {
    MidiEvent event;
    event.bytes = {static_cast<std::uint8_t>(0x90 | (channel - 1)), static_cast<std::uint8_t>(key), 80};
    return event;
}

} // namespace

TEST(GuideEcho, IsTakenOutAndThePlayersNotesStay) {
    const Score score = ladderScore(bpm);
    for (const double late : {0.0, 0.0107, 0.120}) {
        MidiTake take = guideLate(score, late, 0.002);
        const std::vector<PlayedNote> hand = handPlays(score, 0.012, 0);
        take.notes.insert(take.notes.end(), hand.begin(), hand.end());
        sortByTime(take);
        const GuideEcho echo = takeOutGuide(take, score, TempoMap(bpm));
        EXPECT_EQ(echo.notes, score.notes.size()) << late;
        EXPECT_EQ(take.notes.size(), hand.size()) << late;
    }
}

TEST(GuideEcho, AHandIsNeverTakenForItNotEvenWithOneVelocityThroughout) {
    const Score score = ladderScore(bpm);
    for (const int velocity : {0, 64, 92})
        for (const double scatter : {0.004, 0.012, 0.030}) {
            MidiTake take;
            take.notes = handPlays(score, scatter, velocity);
            sortByTime(take);
            const MidiTake before = take;
            EXPECT_FALSE(takeOutGuide(take, score, TempoMap(bpm)).any()) << velocity << ", " << scatter;
            EXPECT_EQ(take.notes, before.notes);
        }
}

TEST(GuideEcho, ClicksThatComeBackOnAnotherChannelAreTakenOut) {
    const Score score = ladderScore(bpm);
    MidiTake take;
    take.notes = handPlays(score, 0.012, 0);
    const std::size_t played = take.notes.size();
    for (const GuideCue& cue : guideCues(score))
        if (cue.kind == GuideCue::Kind::clickOn) {
            const double on = TempoMap(bpm).secondsAt(static_cast<double>(cue.tick) / ticksPerQuarter) + 0.02;
            take.notes.push_back({on, on + 0.05, cue.accent ? 76 : 77, cue.velocity});
        }
    sortByTime(take);
    EXPECT_TRUE(takeOutGuide(take, score, TempoMap(bpm)).any());
    EXPECT_EQ(take.notes.size(), played);
}

TEST(GuideEcho, ValveControllersThatComeBackAreNoSensors) {
    const Score score = ladderScore(bpm);
    MidiTake take;
    for (const GuideCue& cue : guideCues(score))
        if (cue.kind == GuideCue::Kind::valve)
            take.valves.push_back(
                {TempoMap(bpm).secondsAt(static_cast<double>(cue.tick) / ticksPerQuarter) + 0.01, cue.valve,
                 cue.pressed});
    ASSERT_FALSE(take.valves.empty());
    EXPECT_TRUE(takeOutGuide(take, score, TempoMap(bpm)).any());
    EXPECT_TRUE(take.valves.empty());
}

TEST(OwnMessages, ClickPercussionAndBackingAreNotThePlayers) {
    GuideSettings settings;
    EXPECT_TRUE(isNotThePlayers(noteOn(10, 76), settings, 0));
    EXPECT_TRUE(isNotThePlayers(noteOn(10, 60), settings, 0));
    EXPECT_FALSE(isNotThePlayers(noteOn(1, 76), settings, 0)); // E5, which a trumpet plays
    EXPECT_FALSE(isNotThePlayers(noteOn(2, 60), settings, 0));
    settings.backing.on = {true, false, false, false};
    EXPECT_TRUE(isNotThePlayers(noteOn(2, 60), settings, 0));
    settings.clickChannel = 5;
    EXPECT_TRUE(isNotThePlayers(noteOn(5, 60), settings, 0));
    settings.click = ClickWhen::off;
    EXPECT_FALSE(isNotThePlayers(noteOn(5, 60), settings, 0));
}

TEST(OwnMessages, AChannelThatIsNamedIsThePlayersButForTheClicksKeys) {
    const GuideSettings settings;
    EXPECT_FALSE(isNotThePlayers(noteOn(10, 60), settings, 10));
    EXPECT_TRUE(isNotThePlayers(noteOn(10, 76), settings, 10));
    EXPECT_TRUE(isNotThePlayers(noteOn(10, 77), settings, 10));
    EXPECT_TRUE(isNotThePlayers(noteOn(1, 60), settings, 10));
}

} // namespace valveladder::test
