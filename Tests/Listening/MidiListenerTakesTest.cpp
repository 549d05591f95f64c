#include "MidiListenerPlayers.h"

#include <rapidcheck/gtest.h>

namespace valveladder {

namespace {

using namespace test;

int takes() {
    return fullSize() ? 20000 : 800;
}

struct Tally {
    int planted = 0;
    int found = 0;
    int falseReports = 0;
    int notes = 0;
};

/// Counts each planted fault as found or not, and whatever else was reported as false.
void count(const Performance& p, const std::map<int, Fault>& faults, std::map<Fault, Tally>& tally) {
    std::map<int, int> extras;
    for (const ExtraNote& extra : p.extras)
        ++extras[extra.nearIndex];
    for (const NoteResult& note : p.notes) {
        const auto fault = faults.find(note.index);
        const bool hasExtra = extras.contains(note.index);
        bool alarm = note.outcome != Outcome::right || hasExtra || note.split;
        if (fault != faults.end()) {
            Tally& of = tally[fault->second];
            ++of.planted;
            const bool found = fault->second == Fault::wrong    ? note.outcome == Outcome::wrong && !hasExtra
                               : fault->second == Fault::missed ? note.outcome == Outcome::missed && !hasExtra
                               : fault->second == Fault::split
                                   ? note.split && note.outcome == Outcome::right && extras[note.index] == 1
                                   : !note.split && note.outcome == Outcome::right && extras[note.index] == 1;
            of.found += found;
            alarm = false;
        }
        ++tally[Fault::wrong].notes;
        tally[Fault::wrong].falseReports += alarm || note.breathBefore;
    }
}

} // namespace

TEST(MidiTakes, CleanTakesOfAnyPlayerHaveNoFalseReport) {
    for (int seed = 1; seed <= takes(); ++seed) {
        std::mt19937 random(static_cast<unsigned>(seed));
        const Score score = randomLadder(random);
        const Performance p = listen(score, play(score, randomStyle(score, random), random));
        ASSERT_TRUE(p.clean()) << "seed " << seed << ", tempo " << score.bpm;
    }
}

TEST(MidiTakes, PlantedWrongMissedExtraAndSplitNotesAreFound) {
    std::map<Fault, Tally> tally;
    for (int seed = 1; seed <= takes(); ++seed) {
        std::mt19937 random(static_cast<unsigned>(seed) + 500000U);
        const Score score = randomLadder(random);
        auto notes = play(score, randomStyle(score, random), random);
        const auto faults = plant(score, notes, 4, 0.3, random);
        count(listen(score, notes), faults, tally);
    }
    int notes = tally[Fault::wrong].notes;
    for (const auto& [fault, of] : tally) {
        std::printf("fault %d: %d planted, %d found\n", static_cast<int>(fault), of.planted, of.found);
        EXPECT_GT(of.planted, takes());
        EXPECT_GE(of.found, of.planted * 0.99);
    }
    std::printf("false reports %d in %d notes\n", tally[Fault::wrong].falseReports, notes);
    EXPECT_LE(tally[Fault::wrong].falseReports * 1000.0, notes);
}

TEST(MidiTakes, DenselyPlantedFaultsAreMostlyFound) {
    std::map<Fault, Tally> tally;
    for (int seed = 1; seed <= takes(); ++seed) {
        std::mt19937 random(static_cast<unsigned>(seed) + 900000U);
        const Score score = randomLadder(random);
        auto notes = play(score, randomStyle(score, random), random);
        const auto faults = plant(score, notes, 1, 0.15, random);
        count(listen(score, notes), faults, tally);
    }
    for (const auto& [fault, of] : tally) {
        std::printf("dense fault %d: %d planted, %d found\n", static_cast<int>(fault), of.planted, of.found);
        EXPECT_GE(of.found, of.planted * 0.95);
    }
    std::printf("dense false reports %d in %d notes\n", tally[Fault::wrong].falseReports,
                tally[Fault::wrong].notes);
    EXPECT_LE(tally[Fault::wrong].falseReports * 200.0, tally[Fault::wrong].notes);
}

TEST(MidiTiming, OnsetsAreRecoveredWithinAMillisecond) {
    double worst = 0.0;
    for (int seed = 1; seed <= takes(); ++seed) {
        std::mt19937 random(static_cast<unsigned>(seed) + 200000U);
        const Score score = randomLadder(random);
        const Style style = randomStyle(score, random);
        const auto notes = play(score, style, random);
        const double roundTripMs = std::uniform_real_distribution<double>(0.0, 40.0)(random);
        MidiTake take;
        take.notes = notes;
        for (PlayedNote& note : take.notes) {
            note.onset += roundTripMs / 1000.0;
            note.offset += roundTripMs / 1000.0;
        }
        const Performance p = listenToMidi(score, TempoMap(score.bpm), take, roundTripMs);
        ASSERT_EQ(p.notes.size(), notes.size());
        for (std::size_t i = 0; i < notes.size(); ++i)
            worst = std::max(worst, std::abs(*p.notes[i].onsetSeconds - notes[i].onset) * 1000.0);
    }
    std::printf("worst onset error %.6f ms\n", worst);
    EXPECT_LE(worst, 1.0);
}

TEST(MidiTiming, JittersSpreadIsTheSpreadMeasured) {
    // Over many segments the median of the measured spreads lies near the truth: sqrt(2) of the jitter.
    std::mt19937 random(77);
    std::vector<double> spreads;
    Drill drill = oneSegment(defaultSegments().front(), 16);
    drill.noteTicks = ticksPerQuarter / 2;
    for (int i = 0; i < 200; ++i) {
        const Score score = ladder(70, drill);
        const Performance p =
            listen(score, play(score, {.lateMs = 30, .driftPercent = 2, .jitterMs = 10}, random));
        spreads.push_back(p.segments.front().ioiSpreadMs->value);
    }
    EXPECT_NEAR(median(spreads), 10.0 * std::sqrt(2.0), 1.0);
}

RC_GTEST_PROP(MidiTakes, OrderOfTheMessagesDoesNotMatter, ()) {
    std::mt19937 random(*rc::gen::inRange(0U, 1000000U));
    const Score score = randomLadder(random);
    auto notes = play(score, randomStyle(score, random), random);
    plant(score, notes, 2, 0.3, random);
    const Performance sorted = listen(score, notes);
    std::shuffle(notes.begin(), notes.end(), random);
    RC_ASSERT(listen(score, notes) == sorted);
}

RC_GTEST_PROP(MidiTakes, ShiftingWhatWasPlayedChangesOnlyAsynchrony, ()) {
    std::mt19937 random(*rc::gen::inRange(0U, 1000000U));
    const Score score = randomLadder(random);
    Style style = randomStyle(score, random);
    style.lateMs = 0.0;
    auto notes = play(score, style, random);
    plant(score, notes, 4, 0.2, random);
    const double shiftMs = *rc::gen::inRange(-100, 101);
    const Performance before = listen(score, notes);
    for (PlayedNote& note : notes) {
        note.onset += shiftMs / 1000.0;
        note.offset += shiftMs / 1000.0;
    }
    const Performance after = listen(score, notes);
    RC_ASSERT(after.extras.size() == before.extras.size());
    for (std::size_t i = 0; i < before.notes.size(); ++i) {
        RC_ASSERT(after.notes[i].outcome == before.notes[i].outcome);
        RC_ASSERT(after.notes[i].split == before.notes[i].split);
        if (before.notes[i].deviationMs)
            RC_ASSERT(std::abs(*after.notes[i].deviationMs - *before.notes[i].deviationMs) < 1e-6);
    }
    RC_ASSERT(std::abs(after.asynchronyMs->value - before.asynchronyMs->value - shiftMs) < 1e-6);
}

RC_GTEST_PROP(MidiTakes, AnyNotesAtAllGiveAResultThatAddsUp, ()) {
    std::mt19937 random(*rc::gen::inRange(0U, 1000000U));
    const Score score = randomLadder(random);
    const auto pick = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    MidiTake take;
    const int count = *rc::gen::inRange(0, 300);
    for (int i = 0; i < count; ++i) {
        const double onset = std::round(pick(-2.0, secondsOf(score, score.length) + 2.0) * 50.0) / 50.0;
        take.notes.push_back(
            {onset, onset + std::round(pick(-1.0, 5.0)) / 10.0, static_cast<int>(pick(0, 128)), 64});
        take.valves.push_back({pick(-1.0, 60.0), static_cast<int>(pick(0, 6)), pick(0, 1) > 0.5});
    }
    const Performance p = listenToMidi(score, TempoMap(score.bpm), take);
    RC_ASSERT(p.notes.size() == score.notes.size());
    const int heard = p.count(Outcome::right) + p.count(Outcome::wrong) + static_cast<int>(p.extras.size());
    RC_ASSERT(heard == count);
    double last = -1e9;
    for (const NoteResult& note : p.notes)
        if (note.onsetSeconds) {
            RC_ASSERT(*note.onsetSeconds >= last);
            last = *note.onsetSeconds;
        }
}

} // namespace valveladder
