#include "Tempo/TempoMap.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <limits>

namespace valveladder {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double nan = std::numeric_limits<double>::quiet_NaN();

// Tempos in hundredths of a bpm, positions in thousandths of a quarter: plain numbers that shrink well.
TempoMap anyMap() {
    std::vector<TempoMap::Point> points;
    for (const auto& [milliQuarters, centiBpm] : *rc::gen::container<std::vector<std::pair<int, int>>>(
             rc::gen::pair(rc::gen::inRange(-100'000, 1'000'000), rc::gen::inRange(500, 45'000))))
        points.push_back({milliQuarters / 1000.0, centiBpm / 100.0});
    return TempoMap(points);
}

double anyQuarter() {
    return *rc::gen::inRange(-200'000, 2'000'000) / 1000.0;
}

} // namespace

TEST(TempoMap, OneTempoIsItsFormula) {
    const TempoMap map(90.0);
    EXPECT_DOUBLE_EQ(map.secondsAt(0.0), 0.0);
    EXPECT_DOUBLE_EQ(map.secondsAt(3.0), 2.0);
    EXPECT_DOUBLE_EQ(map.secondsAt(-1.5), -1.0);
    EXPECT_DOUBLE_EQ(map.quarterAt(2.0), 3.0);
    EXPECT_DOUBLE_EQ(map.bpmAt(1e6), 90.0);
}

// Worked by hand: 4 quarters at 60 are 4 s, 4 at 120 are 2 s, 4 at 80 are 3 s.
TEST(TempoMap, StepsAddUpByHand) {
    const TempoMap map({{8.0, 80.0}, {0.0, 60.0}, {4.0, 120.0}});
    EXPECT_DOUBLE_EQ(map.secondsAt(4.0), 4.0);
    EXPECT_DOUBLE_EQ(map.secondsAt(8.0), 6.0);
    EXPECT_DOUBLE_EQ(map.secondsAt(12.0), 9.0);
    EXPECT_DOUBLE_EQ(map.quarterAt(5.0), 6.0);
    EXPECT_DOUBLE_EQ(map.quarterAt(9.0), 12.0);
    EXPECT_DOUBLE_EQ(map.bpmAt(3.999), 60.0);
    EXPECT_DOUBLE_EQ(map.bpmAt(4.0), 120.0);
    EXPECT_DOUBLE_EQ(map.bpmAt(-5.0), 60.0);
}

TEST(TempoMap, QuarterZeroIsSecondZeroWhereverThePointsLie) {
    const TempoMap before({{-8.0, 60.0}, {-4.0, 120.0}});
    EXPECT_DOUBLE_EQ(before.secondsAt(0.0), 0.0);
    EXPECT_DOUBLE_EQ(before.secondsAt(-4.0), -2.0);
    EXPECT_DOUBLE_EQ(before.secondsAt(-8.0), -6.0);
    const TempoMap after({{4.0, 60.0}, {8.0, 120.0}});
    EXPECT_DOUBLE_EQ(after.secondsAt(0.0), 0.0);
    EXPECT_DOUBLE_EQ(after.secondsAt(10.0), 9.0);
}

TEST(TempoMap, LastOfSeveralPointsAtOneQuarterHolds) {
    const TempoMap map({{0.0, 60.0}, {2.0, 90.0}, {2.0, 120.0}});
    ASSERT_EQ(map.points().size(), 2u);
    EXPECT_EQ(map.bpmAt(2.0), 120.0);
}

TEST(TempoMap, ImpossibleTemposAreClamped) {
    const TempoMap map({{0.0, 0.0}, {1.0, -3.0}, {2.0, 1e9}, {3.0, infinity}, {4.0, -infinity}});
    EXPECT_EQ(map.bpmAt(0.0), minBpm);
    EXPECT_EQ(map.bpmAt(1.0), minBpm);
    EXPECT_EQ(map.bpmAt(2.0), maxBpm);
    EXPECT_EQ(map.bpmAt(3.0), maxBpm);
    EXPECT_EQ(map.bpmAt(4.0), minBpm);
}

TEST(TempoMap, PointsThatAreNoMusicAreDropped) {
    const TempoMap map(
        {{0.0, 60.0}, {1.0, nan}, {nan, 100.0}, {infinity, 100.0}, {-infinity, 90.0}, {2e9, 90.0}});
    ASSERT_EQ(map.points().size(), 1u);
    EXPECT_EQ(map.points()[0], (TempoMap::Point{0.0, 60.0}));
}

TEST(TempoMap, NothingGivenMeans120) {
    EXPECT_EQ(TempoMap(std::vector<TempoMap::Point>{}).bpmAt(0.0), 120.0);
    EXPECT_EQ(TempoMap(nan).bpmAt(0.0), 120.0);
}

TEST(TempoMap, NotANumberAskedGivesNotANumber) {
    const TempoMap map({{0.0, 60.0}, {4.0, 120.0}});
    EXPECT_TRUE(std::isnan(map.secondsAt(nan)));
    EXPECT_TRUE(std::isnan(map.quarterAt(nan)));
    EXPECT_EQ(map.secondsAt(infinity), infinity);
    EXPECT_EQ(map.quarterAt(-infinity), -infinity);
}

RC_GTEST_PROP(TempoMapProperty, SecondsAndQuartersInvert, ()) {
    const TempoMap map = anyMap();
    const double quarter = anyQuarter();
    const double back = map.quarterAt(map.secondsAt(quarter));
    RC_ASSERT(std::abs(back - quarter) <= 1e-9 * std::max(1.0, std::abs(quarter)));
}

RC_GTEST_PROP(TempoMapProperty, TimeRunsForward, ()) {
    const TempoMap map = anyMap();
    const double a = anyQuarter();
    const double b = a + *rc::gen::inRange(1, 100'000) / 1000.0;
    const double seconds = map.secondsAt(b) - map.secondsAt(a);
    RC_ASSERT(seconds >= (b - a) * 60.0 / maxBpm - 1e-9);
    RC_ASSERT(seconds <= (b - a) * 60.0 / minBpm + 1e-9);
}

// The sum over thousandths of a quarter, each at the tempo of its middle, is another way to the same time:
// points lie on thousandths, so no slice holds a change.
RC_GTEST_PROP(TempoMapProperty, SecondsAreTheIntegralOfTheTempo, ()) {
    const TempoMap map = anyMap();
    const int from = *rc::gen::inRange(-100'000, 1'000'000);
    const int slices = *rc::gen::inRange(0, 3000);
    double sum = 0.0;
    for (int i = 0; i < slices; ++i)
        sum += 0.001 * 60.0 / map.bpmAt((from + i + 0.5) / 1000.0);
    RC_ASSERT(std::abs(map.secondsAt((from + slices) / 1000.0) - map.secondsAt(from / 1000.0) - sum) < 1e-7);
}

RC_GTEST_PROP(TempoMapProperty, OrderOfDistinctPointsDoesNotMatter, ()) {
    const TempoMap map = anyMap();
    std::vector<TempoMap::Point> reversed(map.points().rbegin(), map.points().rend());
    const TempoMap again(reversed);
    RC_ASSERT(
        std::equal(map.points().begin(), map.points().end(), again.points().begin(), again.points().end()));
}

} // namespace valveladder
