// Sound listening on rendered takes: a made-up brass synthesis and sampled instruments. Nothing here is a
// live player.
#include "Support/CorpusRun.h"

#include <gtest/gtest.h>

#include <cstdlib>
#include <iostream>

namespace valveladder {
namespace {

using testing::Condition;
using testing::CorpusResult;
using testing::fullSize;

using testing::Part;

using testing::runCorpus;
using testing::SoundSource;
using testing::TakeRecipe;

CorpusResult synthesised(Condition condition) {
    return runCorpus(Part::test, condition, 1, false,
                     [](const TakeRecipe& recipe) { return recipe.source == SoundSource::synthesis; });
}

TEST(SoundListener, HearsCleanSynthesisedTakesNoteForNote) {
    const CorpusResult heard = synthesised(Condition::clean);
    ASSERT_GT(heard.all.notes.reference, 100);
    EXPECT_GE(heard.all.notes.f(), 0.99);
    EXPECT_EQ(heard.all.falseReports, 0);
    EXPECT_LE(quantile(magnitudesOf(heard.all.onsetErrorsMs), 0.5), 5.0);
    EXPECT_LE(quantile(magnitudesOf(heard.all.onsetErrorsMs), 0.95), 20.0);
    EXPECT_LE(quantile(magnitudesOf(heard.all.changeoverErrorsMs), 0.5), 5.0);
}

TEST(SoundListener, HearsFaultsInNoisySynthesisedTakes) {
    const CorpusResult heard = synthesised(Condition::faulty);
    ASSERT_GT(heard.all.wrong.planted, 0);
    EXPECT_GE(heard.all.notes.f(), 0.98);
    EXPECT_EQ(heard.all.wrong.found, heard.all.wrong.planted);
    EXPECT_EQ(heard.all.missed.found, heard.all.missed.planted);
    EXPECT_EQ(heard.all.breath.found, heard.all.breath.planted);
}

// The whole corpus beside a general pitch tracker, for Tests/FIGURES.md: minutes, so at full size only.
TEST(SoundListener, TableOfAllSources) {
    if (!fullSize())
        GTEST_SKIP() << "set VALVE_LADDER_FULL=1 for the table of all sources";
    for (const Condition condition : {Condition::clean, Condition::faulty}) {
        const CorpusResult heard = runCorpus(Part::test, condition, 2, true);
        std::cout << table(heard, nameOf(condition)) << "\n";
        EXPECT_GT(heard.all.notes.f(), static_cast<double>(heard.aubio.f()))
            << "the score must help against a tracker that does not know it";
    }
}

} // namespace
} // namespace valveladder
