// Breaths that a player takes inside a segment, where notes are tongued and the silence between them grows
// with their length, as the player likes and not as the score says; on parts that no rule was set on.
#include "Support/CorpusRun.h"
#include "Support/SoundRoom.h"

#include <gtest/gtest.h>

#include <iostream>
#include <random>

namespace valveladder {
namespace {

using namespace testing;

constexpr int breathsPerTake = 2;

/// A take of quavers or crotchets, even and dotted, whose notes sound for 0.6 to 0.92 of their length, each
/// note its own by 0.04 (standard deviation), 10 ms uneven, with breaths. Every second one is tongued against
/// a score that slurs, as the daily drill does.
RenderedTake renderTongued(const TakeRecipe& recipe, int breaths) {
    std::mt19937 random(recipe.seed + 104729U);
    std::uniform_real_distribution<double> share(0.6, 0.92);
    PlanStyle style;
    style.articulation = Articulation::detached;
    style.gateShare = share(random);
    style.gateSpread = 0.04;
    RunShape shape;
    shape.transposition = transpositionOf(recipe.kind);
    shape.slurred = random() % 2 == 0;
    shape.noteTicks = random() % 3 == 0 ? ticksPerQuarter : ticksPerQuarter / 2;
    RenderedTake rendered{chromaticRun(shape, recipe.bpm), {}};
    if (!shape.slurred)
        for (ScoreNote& note : rendered.score.notes)
            note.gate = note.length * 3 / 4;
    PlanFaults faults;
    faults.jitterMs = 10.0;
    faults.breaths = breaths;
    rendered.take = renderPlan(recipe, planTake(rendered.score, recipe.bpm, style, faults, recipe.seed));
    addNoise(rendered.take, -60.0, recipe.seed);
    return rendered;
}

CorpusResult tonguedTakes(Part part, int size, int breaths) {
    CorpusResult result;
    for (const TakeRecipe& recipe : recipes(part, Condition::clean, size)) {
        if (recipe.articulation != Articulation::detached)
            continue;
        const RenderedTake rendered = renderTongued(recipe, breaths);
        const Tally tally = heardTake(rendered, recipe.bpm, recipe.name());
        result.add(tally, {nameOf(recipe.kind),
                           rendered.score.notes[1].slurFromPrevious ? "against slurs" : "as asked"});
    }
    return result;
}

} // namespace

TEST(SoundBreaths, AreToldFromTheSilenceBetweenTonguedNotes) {
    const CorpusResult heard = tonguedTakes(Part::third, corpusSize(5, 40), breathsPerTake);
    std::cout << table(heard, "tongued, with breaths") << "\n";
    int falseBreaths = 0;
    for (const std::string& story : heard.all.stories) {
        falseBreaths += story.find("FALSE breath") != story.npos;
        if (story.find("breath") != story.npos)
            std::cout << story << "\n";
    }
    ASSERT_GT(heard.all.breath.planted, 50);
    EXPECT_GE(static_cast<double>(heard.all.breath.found), 0.9 * heard.all.breath.planted);
    EXPECT_LE(200 * falseBreaths, heard.all.notes.reference);
}

} // namespace valveladder
