#include "Music/PlayOrder.h"

#include <gtest/gtest.h>

namespace valveladder {

namespace {

std::vector<int> played(const std::vector<BarSigns>& bars) {
    const Result<std::vector<int>> order = playOrder(bars);
    EXPECT_TRUE(order);
    return order ? order.value() : std::vector<int>();
}

} // namespace

TEST(PlayOrder, RepeatIsPlayedTwiceAndAsOftenAsItSays) {
    std::vector<BarSigns> bars(4);
    bars[1].repeatStart = true;
    bars[2].repeatTimes = 2;
    EXPECT_EQ(played(bars), (std::vector<int>{0, 1, 2, 1, 2, 3}));
    bars[2].repeatTimes = 3;
    EXPECT_EQ(played(bars), (std::vector<int>{0, 1, 2, 1, 2, 1, 2, 3}));
}

TEST(PlayOrder, EachPassTakesItsEnding) {
    std::vector<BarSigns> bars(5);
    bars[2].endings = {1, 2};
    bars[2].endingStart = true;
    bars[2].repeatTimes = 2;
    bars[3].endings = {3};
    bars[3].endingStart = true;
    EXPECT_EQ(played(bars), (std::vector<int>{0, 1, 2, 0, 1, 2, 0, 1, 3, 4}));
}

TEST(PlayOrder, DaCapoAlFineEndsAtFineWithoutRepeats) {
    std::vector<BarSigns> bars(4);
    bars[1].repeatTimes = 2;
    bars[1].fine = true;
    bars[3].daCapo = true;
    EXPECT_EQ(played(bars), (std::vector<int>{0, 1, 0, 1, 2, 3, 0, 1}));
}

TEST(PlayOrder, DalSegnoAlCodaLeapsToTheCoda) {
    std::vector<BarSigns> bars(6);
    bars[1].segno = true;
    bars[2].toCoda = true;
    bars[3].dalSegno = true;
    bars[4].coda = true;
    EXPECT_EQ(played(bars), (std::vector<int>{0, 1, 2, 3, 1, 2, 4, 5}));
}

TEST(PlayOrder, RefusesAPieceThatRepeatsWithoutEnd) {
    std::vector<BarSigns> bars(10000);
    bars.back().repeatTimes = 64;
    EXPECT_FALSE(playOrder(bars));
}

} // namespace valveladder
