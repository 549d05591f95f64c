// What a practice room and a player do to a take, each alone, on a made-up brass synthesis: tempos, late and
// early ends, restarts, tunings, and sounds that are not the player's. Nothing here is a live player.
#include "Listening/SoundListener.h"
#include "Support/BrassSynth.h"
#include "Support/CorpusRun.h"
#include "Support/SoundRoom.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace valveladder {
namespace {

using testing::Articulation;
using testing::PlanFaults;
using testing::PlanStyle;
using testing::RunShape;
using testing::SoundPlan;
using testing::SoundTake;

constexpr double rate = 22050.0;
constexpr std::uint32_t seed = 41;

PlanStyle slurred() {
    PlanStyle style;
    style.minChangeoverMs = 20.0;
    style.maxChangeoverMs = 60.0;
    return style;
}

Score evenRun(double bpm, int noteTicks = ticksPerQuarter / 2) {
    RunShape shape;
    shape.rhythms = {{1}};
    shape.noteTicks = noteTicks;
    return testing::chromaticRun(shape, bpm);
}

SoundPlan planned(const Score& score) {
    return testing::planTake(score, score.bpm, slurred(), {6.0, 0, 0, 0, 0}, seed);
}

SoundTake played(const SoundPlan& plan, double tuningCents = 0.0, double driftCents = 0.0) {
    return testing::renderBrass(plan, testing::trumpetVoice(), seed, rate, tuningCents, driftCents);
}

Performance heardIn(const SoundTake& take, const Score& score) {
    return testing::listenTo(score, take, score.bpm).heard;
}

int sizeOf(const Score& score) {
    return static_cast<int>(score.notes.size());
}

/// As a list, to be read where a test fails: "0 right, 1 missed, ...".
std::string outcomes(const Performance& heard) {
    std::string text = std::to_string(heard.extras.size()) + " extra;";
    for (const NoteResult& note : heard.notes)
        if (note.outcome != Outcome::right)
            text += " " + std::to_string(note.index) +
                    (note.outcome == Outcome::missed ? " missed" : " as " + std::to_string(note.played));
    return text;
}

void expectClean(const Performance& heard, const Score& score, const std::string& what) {
    EXPECT_EQ(heard.count(Outcome::right), sizeOf(score)) << what << ": " << outcomes(heard);
    EXPECT_EQ(heard.extras.size(), 0u) << what << ": " << outcomes(heard);
}

} // namespace

TEST(SoundHandles, EighthsFrom40To220AndSixteenthsFrom40To140AreHeardNoteForNote) {
    for (const double bpm : {40.0, 76.0, 120.0, 168.0, 220.0}) {
        const Score score = evenRun(bpm);
        expectClean(heardIn(played(planned(score)), score), score, "eighths at " + std::to_string(bpm));
    }
    for (const double bpm : {40.0, 90.0, 140.0}) {
        const Score score = evenRun(bpm, ticksPerQuarter / 4);
        expectClean(heardIn(played(planned(score)), score), score, "sixteenths at " + std::to_string(bpm));
    }
}

TEST(SoundHandles, ClicksFromHeadphonesAHeldNoteInTheHallRoomAndNoiseAreNotThePlayer) {
    const Score score = evenRun(92.0);
    const auto with = [&](const std::string& what, const auto& add) {
        SoundTake take = played(planned(score));
        add(take);
        expectClean(heardIn(take, score), score, what);
    };
    with("clicks", [](SoundTake& t) { testing::addClicks(t, t.truth.startSeconds, 60.0 / 92.0, -28.0); });
    with("a held note", [](SoundTake& t) { testing::addHeldNote(t, 311.13, -52.0); });
    with("a room", [](SoundTake& t) { testing::addRoom(t, 0.5, -10.0, seed); });
    with("noise", [](SoundTake& t) { testing::addNoise(t, -40.0, seed); });
}

// Air drawn in before the first note and after the last, as loud as a soft note.
TEST(SoundHandles, BreathNoiseBetweenSegmentsIsNoNote) {
    RunShape shape;
    shape.rhythms = {{1}, {3, 1}};
    const Score score = testing::chromaticRun(shape, 92.0);
    SoundTake take = played(planned(score));
    const auto breathe = [&](double from, double to) {
        std::mt19937 random(seed);
        std::normal_distribution<float> noise(0.0F, 0.02F);
        float smooth = 0.0F;
        for (auto i = static_cast<std::size_t>(from * rate); i < static_cast<std::size_t>(to * rate); ++i) {
            smooth += 0.4F * (noise(random) - smooth);
            take.samples[i] += smooth;
        }
    };
    const auto& notes = take.truth.notes;
    const auto second = static_cast<std::size_t>(score.spans[1].firstNote);
    breathe(notes.front().onset - 0.5, notes.front().onset - 0.1);
    breathe(notes[second].onset - 0.5, notes[second].onset - 0.08);
    expectClean(heardIn(take, score), score, "breaths");
}

TEST(SoundHandles, ALateStartAndAnEarlyStopMissTheseNotesAndNoOthers) {
    const Score score = evenRun(92.0);
    SoundPlan plan = planned(score);
    constexpr int late = 3;
    constexpr int early = 4;
    plan.notes.erase(plan.notes.begin(), plan.notes.begin() + late);
    plan.notes.resize(plan.notes.size() - early);
    plan.notes.front().tongued = true;
    plan.notes.front().changeoverMs.reset();
    const Performance heard = heardIn(played(plan), score);
    for (const NoteResult& note : heard.notes) {
        const bool silent = note.index < late || note.index >= sizeOf(score) - early;
        EXPECT_EQ(note.outcome, silent ? Outcome::missed : Outcome::right) << note.index;
    }
    EXPECT_EQ(heard.extras.size(), 0u);
}

TEST(SoundHandles, ARestartInMidSegmentIsToldAndNothingElse) {
    const Score score = evenRun(92.0);
    const SoundPlan whole = planned(score);
    constexpr std::size_t before = 6;
    SoundPlan plan = whole;
    plan.notes.resize(before);
    const double again = plan.notes.back().offset + 0.9 - whole.notes.front().onset;
    for (testing::TrueNote note : whole.notes) {
        note.onset += again;
        note.offset += again;
        plan.notes.push_back(note);
    }
    plan.length += again;
    const Performance heard = heardIn(played(plan), score);
    EXPECT_EQ(heard.count(Outcome::right), sizeOf(score)) << outcomes(heard);
    EXPECT_TRUE(heard.extras.empty()) << outcomes(heard);
    EXPECT_EQ(heard.segments.at(0).earlierTries, 1);
}

TEST(SoundHandles, ASkippedAndARepeatedNoteAreMissedAndExtra) {
    const Score score = evenRun(92.0);
    SoundPlan plan = planned(score);
    constexpr std::size_t skipped = 4;
    plan.notes[skipped - 1].offset = plan.notes[skipped].offset; // held instead
    plan.notes.erase(plan.notes.begin() + skipped);
    const Performance heard = heardIn(played(plan), score);
    EXPECT_EQ(heard.count(Outcome::missed), 1) << outcomes(heard);
    EXPECT_EQ(heard.notes[skipped].outcome, Outcome::missed) << outcomes(heard);
    SoundPlan twice = planned(score);
    testing::TrueNote& note = twice.notes[skipped];
    note.firstStops = 0.5 * (note.onset + note.offset);
    note.splitAt = note.firstStops + testing::splitGap;
    const Performance again = heardIn(played(twice), score);
    EXPECT_EQ(again.count(Outcome::right), sizeOf(score)) << outcomes(again);
    EXPECT_TRUE(again.notes[skipped].split) << outcomes(again);
    EXPECT_EQ(again.extras.size(), 1u) << outcomes(again);
}

// 415 and 466 Hz, the chamber and choir pitches of the trade, lie a semitone about 440: common practice.
TEST(SoundHandles, AnyTuningFrom415To466HertzAndDriftWhileWarmingUpAreFoundAndNoFault) {
    const Score score = evenRun(92.0);
    for (const double hz : {415.0, 430.0, 440.0, 443.0, 453.0, 466.0}) {
        const Performance heard = heardIn(played(planned(score), 1200.0 * std::log2(hz / 440.0)), score);
        expectClean(heard, score, "A4 at " + std::to_string(hz));
        ASSERT_TRUE(heard.tuningHz);
        EXPECT_NEAR(*heard.tuningHz, hz, 0.8);
    }
    constexpr double driftCents = 30.0;
    expectClean(heardIn(played(planned(score), -20.0, driftCents), score), score, "drift");
}

TEST(SoundHandles, TempoAndStartAreFoundByThemselvesFrom44To200) {
    for (const double bpm : {44.0, 66.0, 97.0, 138.0, 200.0}) {
        RunShape shape;
        shape.rhythms = {{1}, {3, 1}};
        const Score score = testing::chromaticRun(shape, bpm);
        const SoundTake take = played(planned(score));
        SoundSettings settings;
        settings.sampleRate = take.rate;
        SoundListener listener(score, settings);
        listener.push(take.samples);
        const Performance heard = listener.finish();
        ASSERT_TRUE(listener.tempo());
        EXPECT_NEAR(listener.tempo()->bpmAt(0.0), bpm, 0.01 * bpm);
        ASSERT_TRUE(listener.startSeconds());
        EXPECT_NEAR(*listener.startSeconds(), take.truth.startSeconds, 0.05) << bpm;
        expectClean(heard, score, "found at " + std::to_string(bpm));
    }
}

} // namespace valveladder
