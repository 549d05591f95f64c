// The changeover's definition (Listening/BendShape.h) against plans of every shape. Rules were set on seeds
// below 1,000,000. Nothing here is a live player.
#include "Listening/BendShape.h"
#include "Listening/Evaluation.h"
#include "Listening/PitchPath.h"
#include "Support/CorpusRun.h"
#include "Support/Scores.h"
#include "Support/SlowFingers.h"

#include <gtest/gtest.h>

#include <iostream>

namespace valveladder {
namespace {

constexpr const char* instruments[] = {"trumpet-b-flat", "horn-f", "euphonium-4-compensating-bass",
                                       "tuba-b-flat-4"};

struct Errors {
    int known = 0;
    std::vector<double> ms;
};

/// Of takes whose changes are what `shape` makes of a plan.
template <typename Plan>
Errors errorsOf(int takes, std::uint32_t firstSeed, Plan&& plan) {
    Errors errors;
    for (int i = 0; i < takes; ++i) {
        const Instrument& instrument =
            *findInstrument(instruments[static_cast<std::size_t>(i) % std::size(instruments)]);
        const auto seed = firstSeed + static_cast<std::uint32_t>(i);
        const double bpm = 54.0 + (seed * 17) % 40;
        const Score score = test::oneRung(instrument, bpm);
        const testing::SoundPlan planned = plan(score, instrument, bpm, seed);
        const auto sound = testing::renderBrass(planned, testing::voiceFor(instrument), seed);
        for (const ChangeResult& change : testing::listenTo(score, sound, bpm).heard.changes) {
            const testing::TrueNote* truth = planned.note(change.toIndex);
            if (!truth->changeoverMs)
                continue;
            ++errors.known;
            if (change.changeoverMs)
                errors.ms.push_back(*change.changeoverMs - *truth->changeoverMs);
        }
    }
    return errors;
}

void expectUnbiased(const Errors& errors, const char* name) {
    const double bias = quantile(errors.ms, 0.5);
    std::cout << name << ": " << errors.ms.size() << " of " << errors.known << " measured, bias " << bias
              << " ms, median error " << quantile(magnitudesOf(errors.ms), 0.5) << " ms\n";
    ASSERT_GE(errors.known, 80);
    EXPECT_GE(static_cast<double>(errors.ms.size()), 0.95 * errors.known);
    EXPECT_LE(std::abs(bias), 3.0);
}

} // namespace

TEST(SoundShapes, ChangeoversOfEveryBendAgreeWithTheDefinition) {
    std::uint32_t seed = 7600000;
    for (const testing::Bend bend : testing::bends) {
        const Errors errors =
            errorsOf(testing::corpusSize(4, 40), seed,
                     [&](const Score& score, const Instrument&, double bpm, std::uint32_t number) {
                         testing::PlanStyle style;
                         style.minChangeoverMs = 20.0;
                         style.maxChangeoverMs = 120.0;
                         auto plan = testing::planTake(score, bpm, style, {8.0, 0, 0, 0, 0}, number);
                         for (testing::TrueNote& note : plan.notes)
                             note.bend = bend;
                         return plan;
                     });
        expectUnbiased(errors, nameOf(bend));
        seed += 1000;
    }
}

TEST(SoundShapes, ChangeoversWithAStopAgreeWithTheDefinition) {
    expectUnbiased(errorsOf(testing::corpusSize(4, 40), 7610000, testing::planFingersApart), "with stops");
}

// The definition by itself: a semitone's twentieth is the 5 cents that are the least.
TEST(SoundShapes, AreLeftAtATwentiethAndReachedAtTheLast) {
    EXPECT_DOUBLE_EQ(leftThresholdCents(100.0), 5.0);
    EXPECT_DOUBLE_EQ(leftThresholdCents(-400.0), 20.0);
    EXPECT_DOUBLE_EQ(leftThresholdCents(60.0), 5.0);
    for (const BendShape shape : bendShapes) {
        const auto points = bendPoints(shape);
        const auto shareAt = [&](double time) {
            std::size_t i = 1;
            while (i + 1 < points.size() && points[i].time < time)
                ++i;
            const double way = (time - points[i - 1].time) / (points[i].time - points[i - 1].time);
            return points[i - 1].share + way * (points[i].share - points[i - 1].share);
        };
        EXPECT_NEAR(shareAt(0.0), leftShare, 0.01);
        EXPECT_NEAR(shareAt(1.0), 1.0 - leftShare, 0.01);
    }
}

TEST(SoundShapes, APathsTimeIsTheInverseOfItsPhase) {
    const std::array<PitchPath::Knot, 4> knots{
        {{100.0, 0.01}, {140.0, 0.013}, {260.0, 0.013}, {300.0, 0.008}}};
    const PitchPath path(knots);
    EXPECT_DOUBLE_EQ(path.phase(100.0), 0.0);
    EXPECT_NEAR(path.phase(140.0), 0.46, 1e-12);
    for (double t = 0.0; t < 500.0; t += 3.7)
        EXPECT_NEAR(path.time(path.phase(t)), t, 1e-9);
}

} // namespace valveladder
