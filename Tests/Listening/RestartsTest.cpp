// Segments that are broken off and begun again: told, and the last try counts, by MIDI and by sound. Rules
// were set on seeds below 1,000,000. Nothing here is a live player.
#include "MidiListenerPlayers.h"

#include "Support/BrassSynth.h"
#include "Support/CorpusRun.h"
#include "Support/HeardStories.h"
#include "Support/Scores.h"
#include "Support/SlowFingers.h"
#include "Words/RemarkWords.h"

#include <gtest/gtest.h>

#include <iostream>

namespace valveladder {
namespace {

using testing::TrueRestart;

struct Told {
    int restarts = 0;
    int told = 0;
    int falselyTold = 0; ///< segments
    int notes = 0;
    int notRight = 0;
    int extras = 0;
};

void judge(Told& sum, const std::vector<TrueRestart>& truth, const Performance& heard) {
    for (const SegmentResult& segment : heard.segments) {
        const auto planned = std::ranges::count(truth, segment.span, &TrueRestart::span);
        sum.restarts += static_cast<int>(planned);
        sum.told += planned > 0 && segment.earlierTries == planned ? 1 : 0;
        sum.falselyTold += planned == 0 && segment.earlierTries > 0 ? 1 : 0;
    }
    sum.notes += static_cast<int>(heard.notes.size());
    sum.notRight += static_cast<int>(heard.notes.size()) - heard.count(Outcome::right);
    sum.extras += static_cast<int>(heard.extras.size());
}

struct Recipe {
    const Instrument* instrument;
    bool tongued;
    double bpm;
    std::uint32_t seed;
};

std::vector<Recipe> recipes(std::uint32_t firstSeed, int size) {
    std::vector<Recipe> all;
    for (int i = 0; i < size; ++i)
        for (const char* id :
             {"trumpet-b-flat", "horn-f", "euphonium-4-compensating-bass", "tuba-b-flat-4"}) {
            const auto seed = firstSeed + static_cast<std::uint32_t>(all.size());
            all.push_back({findInstrument(id), all.size() % 2 == 1, 54.0 + (seed * 17) % 50, seed});
        }
    return all;
}

Score rungOf(const Recipe& recipe) {
    return test::oneRung(*recipe.instrument, recipe.bpm, !recipe.tongued);
}

testing::SoundPlan planOf(const Recipe& recipe, const Score& score, const testing::PlanFaults& faults) {
    testing::PlanStyle style;
    style.articulation = recipe.tongued ? testing::Articulation::detached : testing::Articulation::glide;
    style.minChangeoverMs = 15.0;
    style.maxChangeoverMs = 70.0;
    return testing::planTake(score, recipe.bpm, style, faults, recipe.seed);
}

Performance byMidi(const Score& score, double bpm, const testing::SoundPlan& plan) {
    MidiTake take;
    for (const testing::TrueNote& note : plan.notes)
        take.notes.push_back(
            {note.onset - plan.startSeconds, note.offset - plan.startSeconds, note.midi, 80});
    return listenToMidi(score, TempoMap(bpm), take);
}

Performance bySound(const Recipe& recipe, const Score& score, const testing::SoundPlan& plan) {
    const auto sound = testing::renderBrass(plan, testing::voiceFor(*recipe.instrument), recipe.seed);
    return testing::listenTo(score, sound, recipe.bpm).heard;
}

void expectTold(const Told& sum, const char* title) {
    std::cout << title << ": " << sum.told << " of " << sum.restarts << " told, falsely " << sum.falselyTold
              << " in " << sum.notes << " notes; " << sum.notRight << " not right, " << sum.extras
              << " extra\n";
    ASSERT_GE(sum.restarts, 10);
    EXPECT_GE(sum.told, 0.95 * sum.restarts);
    EXPECT_LE(200 * sum.falselyTold, sum.notes);
    EXPECT_LE(sum.notRight + sum.extras, 0.02 * sum.notes);
}

} // namespace

TEST(Restarts, OfTheSamePlayerAreToldByMidi) {
    Told sum;
    for (const Recipe& recipe : recipes(7200000, testing::corpusSize(20, 100))) {
        const Score score = rungOf(recipe);
        testing::SoundPlan plan = planOf(recipe, score, {10.0, 0, 0, 0, 0});
        const auto truth = testing::breakOff(plan, score, recipe.seed);
        judge(sum, truth, byMidi(score, recipe.bpm, plan));
    }
    expectTold(sum, "by MIDI");
}

TEST(SoundRestarts, AreToldAndTheLastTryCounts) {
    Told sum;
    for (const Recipe& recipe : recipes(7300000, testing::corpusSize(3, 50))) {
        const Score score = rungOf(recipe);
        testing::SoundPlan plan = planOf(recipe, score, {10.0, 0, 0, 0, 0});
        const auto truth = testing::breakOff(plan, score, recipe.seed);
        judge(sum, truth, bySound(recipe, score, plan));
    }
    expectTold(sum, "by sound");
}

TEST(Restarts, BreathsAndMistakesAreNone) {
    int notes = 0;
    int told = 0;
    for (const Recipe& recipe : recipes(7400000, testing::corpusSize(20, 100))) {
        const Score score = rungOf(recipe);
        const Performance heard = byMidi(score, recipe.bpm, planOf(recipe, score, {15.0, 2, 2, 2, 3}));
        notes += static_cast<int>(heard.notes.size());
        for (const SegmentResult& segment : heard.segments)
            told += segment.earlierTries;
    }
    EXPECT_LE(200 * told, notes) << told << " in " << notes;
}

TEST(Restarts, SayWhereAndLeaveTheSpreadOfTheLastTry) {
    const Score score = test::ladder(72.0);
    std::mt19937 random(5);
    std::vector<PlayedNote> notes = test::play(score, {}, random);
    // Three notes of the first segment, then all of it again 2 s later.
    std::vector<PlayedNote> tried(notes.begin(), notes.begin() + 3);
    for (int i = 0; i < score.spans[0].noteCount; ++i) {
        notes[static_cast<std::size_t>(i)].onset += 2.5;
        notes[static_cast<std::size_t>(i)].offset += 2.5;
    }
    notes.insert(notes.begin(), tried.begin(), tried.end());
    const Performance heard = test::listen(score, notes);
    ASSERT_FALSE(heard.segments.empty());
    EXPECT_EQ(heard.segments[0].earlierTries, 1);
    EXPECT_TRUE(heard.segments[0].clean);
    ASSERT_TRUE(heard.segments[0].ioiSpreadMs);
    EXPECT_LT(heard.segments[0].ioiSpreadMs->value, 1.0);
    EXPECT_TRUE(heard.extras.empty());
    EXPECT_TRUE(std::ranges::any_of(inWords(heard.remarks), [](const std::string& remark) {
        return remark.find("broken off after 3 notes and begun again at") != remark.npos;
    }));
}

// A pattern played twice in one segment, with a breath between, is no restart.
TEST(Restarts, APatternThatIsAskedForTwiceIsNone) {
    Segment even;
    even.name = "even";
    const Score score = test::ladder(72.0, test::oneSegment(even, 2));
    std::mt19937 random(5);
    std::vector<PlayedNote> notes = test::play(score, {}, random);
    for (std::size_t i = 7; i < notes.size(); ++i) {
        notes[i].onset += 0.9;
        notes[i].offset += 0.9;
    }
    const Performance heard = test::listen(score, notes);
    EXPECT_EQ(heard.segments.at(0).earlierTries, 0);
    EXPECT_EQ(heard.count(Outcome::right), static_cast<int>(score.notes.size()));
}

} // namespace valveladder
