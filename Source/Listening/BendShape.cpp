#include "Listening/BendShape.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace valveladder {

namespace {

/// The times, in changeovers, of shares that are gone through.
template <std::size_t n, typename TimeOf>
std::array<BendPoint, n> pointsAt(const std::array<double, n>& shares, TimeOf&& timeOf) {
    const double left = timeOf(leftShare);
    const double length = timeOf(1.0 - leftShare) - left;
    std::array<BendPoint, n> points;
    for (std::size_t i = 0; i < n; ++i)
        points[i] = {(timeOf(shares[i]) - left) / length, shares[i]};
    return points;
}

double cosineTime(double share) {
    return std::acos(1.0 - 2.0 * share) / std::numbers::pi;
}

/// As a finger moves with least jerk (Flash and Hogan 1985).
double leastJerkTime(double share) {
    double low = 0.0;
    double high = 1.0;
    for (int i = 0; i < 40; ++i) {
        const double u = 0.5 * (low + high);
        (u * u * u * (10.0 + u * (6.0 * u - 15.0)) < share ? low : high) = u;
    }
    return low;
}

/// Half-way between the two, each in changeovers.
double smoothTime(double share) {
    const auto inChangeovers = [share](double (*timeOf)(double)) {
        const double left = timeOf(leftShare);
        return (timeOf(share) - left) / (timeOf(1.0 - leftShare) - left);
    };
    return 0.5 * (inChangeovers(cosineTime) + inChangeovers(leastJerkTime));
}

/// An exponential comes to rest nowhere: its last hundredth is taken as gone through.
double landingTime(double share) {
    constexpr double nearlyThere = 0.99;
    return -std::log(1.0 - std::min(share, nearlyThere));
}

} // namespace

double leftThresholdCents(double intervalCents) {
    return std::max(leftCents, leftShare * std::abs(intervalCents));
}

std::span<const BendPoint> bendPoints(BendShape shape) {
    static const auto straight = pointsAt(std::array{0.0, 1.0}, [](double share) { return share; });
    static const auto smooth = pointsAt(std::array{0.0, 0.03, 0.12, 0.3, 0.7, 0.88, 0.97, 1.0}, smoothTime);
    static const auto landing = pointsAt(std::array{0.0, 0.25, 0.5, 0.7, 0.83, 0.91, 0.96, 1.0}, landingTime);
    switch (shape) {
    case BendShape::straight:
        return straight;
    case BendShape::smooth:
        return smooth;
    case BendShape::landing:
        return landing;
    }
    return straight;
}

} // namespace valveladder
