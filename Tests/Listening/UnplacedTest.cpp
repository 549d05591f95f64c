// Takes of which neither tempo nor start is known: put in their place, or said not to be placed. Rules were
// set on seeds below 1,000,000. Nothing here is a live player.
#include "Listening/SoundListener.h"
#include "Support/CorpusRun.h"
#include "Support/SlowFingers.h"
#include "Support/SoundRoom.h"
#include "Words/RemarkWords.h"

#include <gtest/gtest.h>

#include <iostream>

namespace valveladder {
namespace {

constexpr const char* instruments[] = {"trumpet-b-flat", "horn-f",        "euphonium-4-compensating-bass",
                                       "tuba-b-flat-4",  "cornet-b-flat", "horn-double"};
/// The tempo for which the listener's score is laid; the take has its own.
constexpr double blindBpm = 90.0;

struct Take {
    Score blind;
    testing::SoundTake sound;
    double bpm = 0.0;
};

/// One to three rungs, tongued or slurred, up or both ways, at 54 to 144 bpm; every other one with mistakes.
Take takeOf(std::uint32_t seed) {
    std::mt19937 engine(seed);
    const auto random = [&engine] { return static_cast<int>(engine() % 100000U); };
    const Instrument& instrument =
        *findInstrument(instruments[static_cast<std::size_t>(random()) % std::size(instruments)]);
    Drill drill = defaultDrill(instrument);
    auto& ladder = std::get<LadderPattern>(drill.pattern);
    ladder.lastTop = ladder.firstTop + random() % 3;
    if (random() % 2 == 0)
        ladder.shape = Shape::up;
    const bool tongued = random() % 2 == 0;
    for (Segment& segment : drill.segments)
        segment.slurred = !tongued;
    const double bpm = 54.0 + random() % 91;
    testing::PlanStyle style;
    style.articulation = tongued ? testing::Articulation::detached : testing::Articulation::glide;
    style.minChangeoverMs = 15.0;
    style.maxChangeoverMs = 60.0;
    style.startSeconds = 0.3 + 0.01 * static_cast<double>(random() % 300);
    testing::PlanFaults faults{5.0 + random() % 10, 0, 0, 0, 0};
    if (random() % 2 == 0)
        faults = {faults.jitterMs, 1 + random() % 3, 1 + random() % 3, 1, 1};
    const Score score = buildScore(drill, instrument, bpm).value();
    const auto plan = testing::planTake(score, bpm, style, faults, seed);
    Take take{buildScore(drill, instrument, blindBpm).value(),
              testing::renderBrass(plan, testing::voiceFor(instrument), seed), bpm};
    testing::addNoise(take.sound, -60.0, seed);
    return take;
}

struct Placed {
    std::optional<double> startSeconds;
    std::optional<TempoMap> tempo;
    Performance performance;
};

Placed heardBlind(const Score& score, const testing::SoundTake& sound) {
    SoundSettings settings;
    settings.sampleRate = sound.rate;
    SoundListener listener(score, settings);
    listener.push(sound.samples);
    Placed placed;
    placed.performance = listener.finish();
    placed.startSeconds = listener.startSeconds();
    placed.tempo = listener.tempo();
    return placed;
}

bool saysNotPlaced(const Performance& performance) {
    return std::ranges::any_of(inWords(performance.remarks), [](const std::string& remark) {
        return remark.find("cannot be told for sure") != remark.npos ||
               remark.find("does not follow the drill") != remark.npos;
    });
}

} // namespace

TEST(SoundUnplaced, TakesOfOneToThreeRungsAreInPlaceOrSaidNotToBe) {
    const int takes = testing::corpusSize(12, 200);
    int inPlace = 0;
    int wrong = 0;
    for (int i = 0; i < takes; ++i) {
        const std::uint32_t seed = 7700000 + static_cast<std::uint32_t>(i);
        const Take take = takeOf(seed);
        const Placed placed = heardBlind(take.blind, take.sound);
        if (!placed.startSeconds) {
            EXPECT_TRUE(saysNotPlaced(placed.performance)) << seed;
            continue;
        }
        const bool right = std::abs(*placed.startSeconds - take.sound.truth.startSeconds) < 0.15 &&
                           std::abs(placed.tempo->bpmAt(0.0) / take.bpm - 1.0) < 0.01;
        ++(right ? inPlace : wrong);
    }
    std::cout << inPlace << " of " << takes << " in place, " << wrong << " elsewhere\n";
    // At the small size one take is 8 %.
    EXPECT_GE(inPlace, (testing::fullSize() ? 0.98 : 0.90) * takes);
    EXPECT_EQ(wrong, 0);
}

// The same notes again and again in one rhythm: nothing tells one segment from the other.
TEST(SoundUnplaced, WhatCouldLieAnywhereIsSaidNotToBePlacedWithTwoReadings) {
    const Instrument& trumpet = *findInstrument("trumpet-b-flat");
    Drill drill = defaultDrill(trumpet);
    auto& ladder = std::get<LadderPattern>(drill.pattern);
    ladder.lastTop = ladder.firstTop;
    drill.segments = std::vector<Segment>(4, drill.segments.front());
    constexpr double bpm = 84.0;
    const Score score = buildScore(drill, trumpet, bpm).value();
    testing::SoundPlan plan = testing::planTake(score, bpm, {}, {6.0, 0, 0, 0, 0}, 7800001);
    plan.notes.resize(static_cast<std::size_t>(score.spans[0].noteCount)); // one segment of the four
    plan.length = plan.notes.back().offset + 0.6;
    const Placed placed = heardBlind(score, testing::renderBrass(plan, testing::trumpetVoice(), 7800001));
    EXPECT_FALSE(placed.startSeconds);
    ASSERT_FALSE(placed.performance.remarks.empty());
    const std::string remark = inWords(placed.performance.remarks.front());
    EXPECT_NE(remark.find("cannot be told for sure"), remark.npos) << remark;
    EXPECT_NE(remark.find(" or "), remark.npos) << remark;
}

} // namespace valveladder
