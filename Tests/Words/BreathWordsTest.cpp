#include "Words/BreathWords.h"

#include <gtest/gtest.h>

namespace valveladder {

TEST(Words, ASegmentLongerThanABreathIsSaidWithRungTimeAndTempo) {
    EXPECT_EQ(inWords(BreathWarning{"F#3-C4", 1, 19.46, 60.5, 12.0}),
              "F#3-C4, segment 2 lasts 19.5 s at 60.5 bpm, longer than a breath of 12.0 s");
}

} // namespace valveladder
