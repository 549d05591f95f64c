#include "Findings/FingersApart.h"
#include "Words/FingerOrderWords.h"

#include <gtest/gtest.h>

namespace valveladder {
namespace {

constexpr Combination first2(0b010);
constexpr Combination third(0b100);
constexpr Change change{Combination(0b011), Combination(0b101)}; // 1-2 to 1-3

ChangeResult lateBy(double ms, Combination late = third) {
    ChangeResult result;
    result.change = change;
    result.changeoverMs = ms + 10.0;
    result.lateFingers = late;
    result.lateByMs = ms;
    return result;
}

} // namespace

TEST(FingersApart, OneChangeIsToldInWords) {
    EXPECT_EQ(fingersApartInWords(lateBy(31.2)), "3 after 2 by 31 ms");
    EXPECT_EQ(fingersApartInWords(lateBy(31.2, first2)), "2 after 3 by 31 ms");
    EXPECT_EQ(fingersApartInWords(lateBy(9.0)), "");
    EXPECT_EQ(fingersApartInWords(ChangeResult{}), "");
}

TEST(FingersApart, AThumbValveIsCalledT) {
    ChangeResult result = lateBy(40.0, Combination(0b1000));
    result.change = {Combination(0b0110), Combination(0b1000)};
    EXPECT_EQ(fingersApartInWords(result, true), "T after 2-3 by 40 ms");
}

TEST(FingersApart, OfATakeTheMostLostTimeComesFirst) {
    Performance played;
    ChangeResult together = lateBy(5.0);
    ChangeResult unmeasured;
    unmeasured.change = change;
    played.changes = {lateBy(20.0), together, unmeasured, lateBy(50.0, first2), lateBy(60.0, first2)};
    const auto list = fingersApart(played);
    ASSERT_EQ(list.size(), 2U);
    EXPECT_EQ(list[0], (FingersApart{change, third, first2, 55.0, 2, 4}));
    EXPECT_EQ(inWords(list[0]), "2 after 3 by 55 ms in 1-2 to 1-3 (2 of 4 times in this take)");
    EXPECT_EQ(list[1].count, 1);
}

} // namespace valveladder
