#include "Words/SideWords.h"

#include <gtest/gtest.h>

namespace valveladder {

TEST(Words, ADifferenceIsClaimedLikelyOrNotToBeTold) {
    const auto estimate = [](double value, double low, double high) {
        Estimate made;
        made.value = value;
        made.low = low;
        made.high = high;
        made.n = 80;
        return made;
    };
    using enum NoteMeasure;
    EXPECT_EQ(sideLine(estimate(-12.0, -18.0, -6.0), changeover, true),
              "Changeovers: 12 ms shorter, more than chance. 90 % interval 6 to 18 ms (80 changes)");
    EXPECT_EQ(sideLine(estimate(7.0, 6.0, 9.0), changeover, false),
              "Changeovers: 7 ms longer, likely, but not sure enough to be claimed. 90 % interval 6 to 9 ms "
              "(80 changes)");
    EXPECT_EQ(sideLine(estimate(0.2, -0.4, 1.2), deviation, false),
              "Notes: no difference that can be told. 0 ms later, 90 % interval 0 to 1 ms (80 notes)");
    EXPECT_EQ(notComparedLine(intonation), "Pitch: not measured in both");
}

TEST(Words, AChangeThatDiffersNamesAThumbValveAsTheInstrumentDoes) {
    ComparedChange change;
    change.change = {Combination::parse("4").value(), Combination::parse("2-3").value()};
    EXPECT_TRUE(sideChangeLine(change, NoteMeasure::changeover, true).starts_with("T0 to 2-3: "))
        << sideChangeLine(change, NoteMeasure::changeover, true);
    EXPECT_TRUE(sideChangeLine(change, NoteMeasure::changeover, false).starts_with("4 to 2-3: "));
}

} // namespace valveladder
