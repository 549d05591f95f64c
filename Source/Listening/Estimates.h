#pragma once

#include "Base/RobustStatistics.h"
#include "Listening/Performance.h"

#include <optional>
#include <span>
#include <vector>

namespace valveladder {

/// Probability left on each side of every interval shown: 90 % two-sided.
inline constexpr double intervalTail = 0.05;

/// Fewest observations for which two order statistics enclose a median with 90 %: 1 - 2 * 2^-5 = 93.75 %.
inline constexpr int minObservations = 5;

/// The rank d (from 1) such that the d-th smallest and the d-th largest of n observations enclose the median
/// with at least 90 %, whatever the distribution; 0 when n < minObservations. Exact binomial up to 1000,
/// normal approximation above. Source: the sign test's interval, e.g. Conover, Practical Nonparametric
/// Statistics.
[[nodiscard]] int medianIntervalRank(int n);

/// Fewest of each of two samples, where both have as many, for which their differences enclose the shift with
/// 90 %: 1 - 2 / 20, of the 20 ways to rank three and three.
inline constexpr int minOfEach = 3;

/// The rank c (from 1) such that the c-th smallest and the c-th largest of the m * n differences enclose the
/// shift between two samples with at least 90 %; 0 when the samples are too small. Exact up to m * n = 400,
/// normal approximation above. Source: the Mann-Whitney distribution, Hollander and Wolfe, Nonparametric
/// Statistical Methods.
[[nodiscard]] int shiftIntervalRank(int m, int n);

/// Median with its order-statistic interval; nothing below minObservations. The interval takes the values as
/// independent; where they drift together it is too narrow.
[[nodiscard]] std::optional<Estimate> medianEstimate(std::vector<double> values);

/// scaledMad with the order-statistic interval of the median of |x - median|, the centre taken as known;
/// nothing below minObservations.
[[nodiscard]] std::optional<Estimate> spreadEstimate(const std::vector<double>& values);

/// madToSigma * median |residual|, residuals of a line having zero for their centre: unlike a MAD about their
/// own median it does not collapse when they alternate, as in limping notes. Interval and absence as
/// spreadEstimate.
[[nodiscard]] std::optional<Estimate> residualSpreadEstimate(const std::vector<double>& residuals);

/// How much larger `a` is than `b`: the median of all differences (Hodges and Lehmann) with the Mann-Whitney
/// interval. n counts both samples. Nothing when they are too small for 90 % (minOfEach of each suffice). Of
/// more than 1024 values every k-th is used.
[[nodiscard]] std::optional<Estimate> shiftEstimate(std::span<const double> a, std::span<const double> b);

/// How many times `a` is as large as `b`: shiftEstimate of the logarithms. All values must be positive.
[[nodiscard]] std::optional<Estimate> ratioEstimate(std::span<const double> a, std::span<const double> b);

struct Line {
    double slope = 0.0;
    double intercept = 0.0;

    [[nodiscard]] double at(double x) const { return intercept + slope * x; }
};

/// The line by Theil (1950) and Sen (1968): slope is the median of the slopes of all pairs with different x,
/// intercept the median of y - slope * x. Up to 29 % of the points may be anything. Above 512 points only the
/// pairs half the data apart are used (Theil's incomplete method), so that the cost stays bounded.
/// Preconditions: same sizes, not empty, x sorted. Slope 0 when all x are equal.
[[nodiscard]] Line robustLine(std::span<const double> x, std::span<const double> y);

} // namespace valveladder
