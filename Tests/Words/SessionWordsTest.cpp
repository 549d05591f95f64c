#include "Words/SessionWords.h"

#include <gtest/gtest.h>

namespace valveladder {

TEST(Words, ATakeEndsInOneOfFourWaysAndNeitherPassesNorFailsUnmeasured) {
    EXPECT_STREQ(words::verdict(true, true, true), "passed");
    EXPECT_STREQ(words::verdict(true, false, true), "not passed");
    EXPECT_STREQ(words::verdict(true, false, false), "kept, not measured");
    for (const bool measured : {true, false})
        EXPECT_STREQ(words::verdict(false, false, measured), "cut short");
}

} // namespace valveladder
