// What finishing a take costs does not grow with the takes that are there. Cost is counted, not timed: steps
// of SQLite's machine and allocations, which no other work on the computer changes.
#include "Session/SoundStage.h"
#include "Support/AllocationWatch.h"
#include "Support/SqlSteps.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <iostream>

namespace valveladder {

namespace {

using testing::SoundStage;
using testing::SqlSteps;

int manyTakes() {
    return std::getenv("VALVE_LADDER_FULL") != nullptr ? 10000 : 2000;
}

SessionConfig quick() {
    SessionConfig config = SoundStage::quick();
    config.rules.stepPerTake = 0.5;
    config.rules.timeZone = "Etc/UTC";
    return config;
}

/// A faultless pass on the keys of a MIDI keyboard, from quarter 0 of the transport.
void playKeys(SoundStage& stage) {
    const auto key = [&](double quarter, int status, int note) {
        MidiEvent event;
        event.bytes = {static_cast<std::uint8_t>(status), static_cast<std::uint8_t>(note), 100};
        stage.keys.emplace(std::llround(quarter * 60.0 / stage.bpm * stage.rate), event);
    };
    for (const ScoreNote& note : stage.score().notes) {
        key(static_cast<double>(note.onset) / ticksPerQuarter, 0x90, note.sounding);
        key(static_cast<double>(note.onset + note.gate * 9 / 10) / ticksPerQuarter, 0x80, note.sounding);
    }
}

struct Cost {
    std::int64_t sqlSteps = 0;
    std::size_t allocations = 0;
};

/// Plays one take and counts all that the session does from its first block to its entry in the log.
Cost oneTake(SoundStage& stage, SqlSteps& steps) {
    stage.rewind();
    stage.keys.clear();
    playKeys(stage);
    (void)steps.take();
    const test::AllocationWatch watch;
    stage.rollTo(stage.lapQuarters());
    stage.stop();
    return {steps.take(), watch.count()};
}

/// A log that holds so many takes of today, of the session's plan.
void fill(SoundStage& stage, int takes) {
    const auto store = LogStore::open(stage.folder / "log.sqlite");
    ASSERT_TRUE(store.ok());
    const TakeRecord like = stage.take();
    for (int i = 0; i < takes; ++i) {
        TakeRecord take = like;
        take.header.id = "00000000-0000-4000-8000-" + std::to_string(100'000'000'000 + i);
        take.header.startedUtc = SoundStage::noon - 3'600'000 + i;
        take.performance.notes.resize(1);
        take.performance.changes.clear();
        take.performance.segments.clear();
        ASSERT_TRUE(store.value()->finishTake(take).ok());
    }
}

} // namespace

TEST(TakeCostFlat, AFinishedTakeCostsTheSameOnADayOfThousands) {
    SqlSteps steps;
    SoundStage stage(quick());
    (void)oneTake(stage, steps);
    const Cost few = oneTake(stage, steps);
    stage.session.reset();
    const int many = manyTakes();
    stage.open(); // any session reads the log once
    fill(stage, many);
    (void)oneTake(stage, steps); // and what others wrote, once
    const Cost after = oneTake(stage, steps);
    std::cout << "of the 2nd take: " << few.sqlSteps << " steps, " << few.allocations
              << " allocations; of number " << many + 4 << ": " << after.sqlSteps << " steps, "
              << after.allocations << " allocations\n";
    ASSERT_EQ(stage.takes().size(), static_cast<std::size_t>(many + 4));
    EXPECT_GT(few.sqlSteps, 100) << "the counter counts";
    EXPECT_LT(static_cast<double>(after.sqlSteps), 1.1 * static_cast<double>(few.sqlSteps));
    EXPECT_LT(static_cast<double>(after.allocations), 1.1 * static_cast<double>(few.allocations));
}

TEST(TakeCostFlat, AViewCostsTheSameOnADayOfThousands) {
    SqlSteps steps;
    SoundStage stage(quick());
    (void)oneTake(stage, steps);
    const auto allocationsOfAView = [&] {
        const test::AllocationWatch watch;
        (void)stage.session->view();
        return watch.count();
    };
    const std::size_t few = allocationsOfAView();
    fill(stage, manyTakes());
    (void)oneTake(stage, steps);
    EXPECT_LT(allocationsOfAView(), few + 20) << "the view's own messages aside";
}

TEST(TakeCostFlat, ThePlanIsTheSameAsReadAnew) {
    SoundStage stage(quick());
    SqlSteps steps;
    for (int i = 0; i < 4; ++i)
        (void)oneTake(stage, steps);
    // Another program keeps takes of the same plan: later ones, earlier ones, and one of them again.
    {
        const auto store = LogStore::open(stage.folder / "log.sqlite");
        ASSERT_TRUE(store.ok());
        TakeRecord other = stage.take();
        for (const UtcMs shift : {-86'400'000LL, -5'000LL, 1'000LL}) {
            other.header.id = "other" + std::to_string(shift);
            other.header.startedUtc = stage.clock + shift;
            other.passed = shift != -5'000LL;
            ASSERT_TRUE(store.value()->finishTake(other).ok());
        }
        other.passed = false;
        ASSERT_TRUE(store.value()->finishTake(other).ok());
    }
    (void)oneTake(stage, steps);
    const auto store = LogStore::openReadOnly(stage.folder / "log.sqlite");
    ASSERT_TRUE(store.ok());
    const PlannedTempo anew =
        nextTempo(stage.session->setup()->config.rules, store.value()->planTakes({}).value(), stage.clock);
    EXPECT_DOUBLE_EQ(stage.session->setup()->planned.bpm, anew.bpm);
    EXPECT_EQ(stage.session->setup()->planned, anew);
}

} // namespace valveladder
