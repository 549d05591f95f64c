#include "Music/OwnChanges.h"

#include <gtest/gtest.h>

namespace valveladder {

namespace {

const Change middleToThird{*Combination::parse("2-3"), *Combination::parse("1-3")};
const Change oneFinger{*Combination::parse("0"), *Combination::parse("2")};

Performance takeWith(const Change& change, std::initializer_list<double> changeovers) {
    Performance take;
    for (const double ms : changeovers) {
        ChangeResult result;
        result.change = change;
        result.changeoverMs = ms;
        take.changes.push_back(result);
    }
    return take;
}

} // namespace

TEST(OwnChanges, MedianNeedsFiveChangeoversAndServesTheWayBack) {
    OwnChanges own;
    own.add(takeWith(middleToThird, {50, 70, 60, 400}));
    EXPECT_EQ(own.medianMs(middleToThird), std::nullopt);
    own.add(takeWith(middleToThird, {55}));
    EXPECT_EQ(own.medianMs(middleToThird), 60.0);
    EXPECT_EQ(own.medianMs({middleToThird.to, middleToThird.from}), 60.0);
    EXPECT_EQ(own.known(), 1);
}

TEST(OwnChanges, ChangesNotHeardAreScaledByThePlayersOwn) {
    OwnChanges own;
    own.add(takeWith(middleToThird, {90, 90, 90, 90, 90})); // twice the predicted 45 ms
    EXPECT_EQ(own.costs()(middleToThird), 90.0);
    EXPECT_EQ(own.costs()(oneFinger), 2.0 * msFromFingersMoved(oneFinger));
    EXPECT_EQ(OwnChanges().costs()(oneFinger), msFromFingersMoved(oneFinger));
}

TEST(OwnChanges, LimitIsWhereTheChangeoverFillsHalfOfTheTime) {
    OwnChanges own;
    own.add(takeWith(middleToThird, {50, 50, 50, 50, 50}));
    EXPECT_EQ(own.limits()(middleToThird), 10.0); // 50 ms are half of 100 ms
    EXPECT_EQ(own.limits()(oneFinger), std::nullopt);
}

} // namespace valveladder
