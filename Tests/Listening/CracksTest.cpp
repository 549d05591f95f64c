// Notes that sound another partial for 45 to 80 ms before they speak. Rules were set on seeds below
// 1,000,000. Nothing here is a live player.
#include "Support/CorpusRun.h"
#include "Support/HeardStories.h"
#include "Support/Scores.h"
#include "Support/SlowFingers.h"

#include <gtest/gtest.h>

#include <iostream>
#include <set>

namespace valveladder {

TEST(SoundCracks, ThroughAnotherPartialAreToldAsCracked) {
    constexpr const char* ids[] = {"trumpet-b-flat", "horn-f", "euphonium-4-compensating-bass", "tuba-f-4"};
    int planted = 0;
    int told = 0;
    int falselyTold = 0;
    int notes = 0;
    int notRight = 0;
    std::uint32_t seed = 7500000;
    for (int i = 0; i < testing::corpusSize(3, 40); ++i)
        for (const char* id : ids) {
            const Instrument& instrument = *findInstrument(id);
            const double bpm = 54.0 + (++seed * 17) % 50;
            const Score score = test::oneRung(instrument, bpm, false);
            testing::PlanStyle style;
            style.articulation = testing::Articulation::detached;
            testing::SoundPlan plan = testing::planTake(score, bpm, style, {10.0, 0, 0, 0, 0}, seed);
            const auto list = testing::crackNotes(plan, score, 4, seed);
            const std::set<int> cracked(list.begin(), list.end());
            const auto sound = testing::renderBrass(plan, testing::voiceFor(instrument), seed);
            const Performance heard = testing::listenTo(score, sound, bpm).heard;
            planted += static_cast<int>(cracked.size());
            notes += static_cast<int>(heard.notes.size());
            notRight += static_cast<int>(heard.notes.size()) - heard.count(Outcome::right);
            for (const NoteResult& note : heard.notes)
                if (note.crackedMs)
                    ++(cracked.contains(note.index) ? told : falselyTold);
        }
    std::cout << told << " of " << planted << " told, falsely " << falselyTold << " of " << notes
              << " notes, not right " << notRight << "\n";
    ASSERT_GE(planted, 50);
    EXPECT_GE(told, 0.80 * planted);
    EXPECT_LE(200 * falselyTold, notes);
    EXPECT_LE(100 * notRight, notes);
}

} // namespace valveladder
