#include "Valves/PitchSigns.h"

#include <gtest/gtest.h>

namespace valveladder {
namespace {

TEST(PitchSigns, SharpsAndFlatsOfNotesNamesAreDrawnAsSignsAndNothingElseIs) {
    EXPECT_EQ(withPitchSigns("F#3, 1-2-3: 31 ms late"), "F\u266f3, 1-2-3: 31 ms late");
    EXPECT_EQ(withPitchSigns("Gb3-C4 (Bb-1), Ab."), "G\u266d3-C4 (B\u266d-1), A\u266d.");
    EXPECT_EQ(withPitchSigns("fa#3-sol#4: C#-D#"), "fa\u266f3-sol\u266f4: C\u266f-D\u266f");
    for (const char* plain : {"Absolute", "dB", "take #3", "1Gb", "/home/Eb/take", "Eb/x", "Bb.mid", "Cis3",
                              "b", "#", "", "Web", "a_Bb_c", "B\u00fcbb"})
        EXPECT_EQ(withPitchSigns(plain), plain);
}

} // namespace
} // namespace valveladder
