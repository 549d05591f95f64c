// Real players, where the data is at hand: ChoraleBricks (Balke, Berndt, Mueller, "ChoraleBricks: A Modular
// Multitrack Dataset for Wind Music Research", TISMIR 2025), solo tracks with annotated notes. It is not part
// of this repository; VALVE_LADDER_CHORALEBRICKS names its folder. Without it nothing is shown here.
#include "Files/RecordingEvaluation.h"

#include <gtest/gtest.h>

#include <cstdlib>
#include <iostream>

namespace valveladder {

namespace {

/// The dataset names a track by voice and instrument, e.g. 01_tp.wav; these are its brass
/// (choralebricks/constants.py).
bool isBrass(const std::filesystem::path& sound) {
    const std::string stem = sound.stem().string();
    for (const char* ending : {"_tp", "_fh", "_fho", "_bar", "_tb", "_tba"})
        if (stem.ends_with(ending))
            return true;
    return false;
}

} // namespace

TEST(ChoraleBricks, BrassTracksAreHeardNoteForNote) {
    const char* folder = std::getenv("VALVE_LADDER_CHORALEBRICKS");
    if (folder == nullptr)
        GTEST_SKIP() << "set VALVE_LADDER_CHORALEBRICKS to the dataset's folder";
    const auto found = annotatedRecordings(folder);
    ASSERT_TRUE(found.ok()) << found.problem().text();
    Tally all;
    std::cout << tallyTableHead("ChoraleBricks", "other F");
    for (const AnnotatedRecording& recording : found.value()) {
        if (!isBrass(recording.sound))
            continue;
        const auto tally = evaluateRecording(recording, std::nullopt, [](double) {});
        ASSERT_TRUE(tally.ok()) << tally.problem().text();
        std::cout << tallyTableRow(recording.sound.filename().string(), tally.value());
        all += tally.value();
    }
    std::cout << tallyTableRow("all", all);
    ASSERT_GT(all.notes.reference, 0) << "no track of a brass instrument under " << folder;
    EXPECT_GE(all.notes.f(), 0.96);
}

} // namespace valveladder
