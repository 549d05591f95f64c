#include "Words/PartWords.h"

#include <gtest/gtest.h>

namespace valveladder {

TEST(PartWords, CostsAreThePlayersOwnWhereTheirChangesAreInThePart) {
    EXPECT_EQ(inWords({.changes = 3, .own = 3, .known = 20, .logged = 400, .fewest = 5}, "Ann", "Horn"),
              "Costs go by Ann's own changeovers, known for 3 of the 3 changes of valves in this part.");
    EXPECT_EQ(inWords({.changes = 3, .own = 1, .known = 20, .logged = 400, .fewest = 5}, "Ann", "Horn"),
              "Costs go by Ann's own changeovers, known for 1 of the 3 changes of valves in this part; the "
              "others go by fingers moved, at that pace.");
}

TEST(PartWords, KnownChangesThatThePartLacksAreNotWhatItsCostsGoBy) {
    EXPECT_EQ(inWords({.changes = 3, .known = 20, .logged = 400, .fewest = 5}, "Ann", "Horn"),
              "Costs go by fingers moved, at Ann's own pace: none of the 3 changes of valves in this part is "
              "among the 20 whose changeovers are known. Takes of a drill that holds them make them known.");
}

TEST(PartWords, WhereNothingIsKnownItIsSaidWhy) {
    EXPECT_EQ(inWords({.changes = 3, .logged = 1, .fewest = 5}, "Ann", "Horn"),
              "Costs go by fingers moved: of the 1 change logged of Ann on Horn none has been measured five "
              "times by sound or sensor. Keep more slurred takes by sound, or takes with valve sensors.");
    EXPECT_EQ(inWords({.changes = 3, .fewest = 5}, "", "Horn"),
              "Costs go by fingers moved: no change of the player on Horn is logged yet.");
    EXPECT_EQ(inWords({.known = 20, .logged = 400, .fewest = 5}, "Ann", "Horn"),
              "Nothing costs: there is no change of valves in this part.");
}

} // namespace valveladder
