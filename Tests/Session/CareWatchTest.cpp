#include "Session/CareWatch.h"

#include <gtest/gtest.h>

namespace valveladder {
namespace {

constexpr UtcMs minute = 60000;
constexpr UtcMs start = 1709575200000; // 2024-03-04 18:00 UTC

TEST(CareWatch, FirstUseShowsTheHandCheckOnceAndTheCautionsOfASittingOnce) {
    CareWatch watch;
    watch.firstUse("Ann");
    EXPECT_EQ(watch.due({}, false, true, start),
              (std::vector{CareKind::handCheck, CareKind::firmValves, CareKind::hearing}));
    EXPECT_TRUE(watch.due({}, false, true, start + minute).empty());
}

TEST(CareWatch, FirstUseIsOnceForAPlayerWhateverElseIsChanged) {
    CareWatch watch;
    watch.firstUse("");
    EXPECT_EQ(watch.due({}, false, false, start).size(), 2U);
    watch.firstUse(""); // another instrument, still without a take
    EXPECT_TRUE(watch.due({}, false, false, start).empty());
    watch.firstUse("Ann");
    EXPECT_EQ(watch.due({}, false, false, start), std::vector{CareKind::handCheck});
}

TEST(CareWatch, NeverSpeaksInATake) {
    CareWatch watch;
    watch.firstUse("Ann");
    watch.takeEnded(start, start + 40 * minute);
    EXPECT_TRUE(watch.due({}, true, true, start + 40 * minute).empty());
    EXPECT_FALSE(watch.due({}, false, true, start + 40 * minute).empty());
}

TEST(CareWatch, RemindsOfARestAfterContinuousPlayingAndNotAgainAtOnce) {
    CareWatch watch;
    (void)watch.due({}, false, true, start);
    for (int take = 0; take < 9; ++take)
        watch.takeEnded(start + take * 3 * minute, start + (take * 3 + 3) * minute);
    EXPECT_EQ(watch.due({}, false, true, start + 27 * minute), std::vector{CareKind::rest});
    EXPECT_TRUE(watch.due({}, false, true, start + 28 * minute).empty());
}

TEST(CareWatch, FiveMinutesOfRestStartTheCountAgain) {
    CareWatch watch;
    (void)watch.due({}, false, true, start);
    watch.takeEnded(start, start + 20 * minute);
    watch.takeEnded(start + 26 * minute, start + 36 * minute);
    EXPECT_TRUE(watch.due({}, false, true, start + 36 * minute).empty());
}

TEST(CareWatch, SeveralSlowFingersAreAskedAboutOnceForEachOneMore) {
    CareWatch watch;
    (void)watch.due({}, false, false, start);
    watch.slowFingersNow(2);
    EXPECT_TRUE(watch.due({}, false, false, start).empty());
    watch.slowFingersNow(3);
    EXPECT_EQ(watch.due({}, false, false, start), std::vector{CareKind::handCheck});
    EXPECT_TRUE(watch.due({}, false, false, start).empty());
}

TEST(CareWatch, ANewSittingBringsItsCautionsBack) {
    CareWatch watch;
    (void)watch.due({}, false, true, start);
    watch.takeEnded(start, start + 3 * minute);
    watch.takeEnded(start + 60 * minute, start + 63 * minute);
    EXPECT_EQ(watch.due({}, false, true, start + 63 * minute),
              (std::vector{CareKind::firmValves, CareKind::hearing}));
}

TEST(CareWatch, IsSilentWhereAllIsSwitchedOff) {
    CareSettings off;
    off.handCheck = off.restReminder = off.firmValves = off.hearing = false;
    CareWatch watch;
    watch.firstUse("Ann");
    watch.takeEnded(start, start + 60 * minute);
    watch.slowFingersNow(4);
    EXPECT_TRUE(watch.due(off, false, true, start + 60 * minute).empty());
}

} // namespace
} // namespace valveladder
