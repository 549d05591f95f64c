#include "Listening/Estimates.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

/// 95 % quantile of the standard normal, for the ranks of large samples.
constexpr double normalQuantile = 1.6448536269514722;
constexpr int exactMedianLimit = 1000; // 2^-n is still a normal double
constexpr int exactShiftLimit = 400;
constexpr std::size_t allPairsLimit = 512;
constexpr std::size_t shiftSampleLimit = 1024; // keeps the differences below about a million
/// 1/20 is exactly the tail that three and three observations leave: it must not fail by rounding.
constexpr double tailTolerance = 1e-12;

/// How many of the orderings of m and n observations have U = u, for all u: the coefficients of the Gaussian
/// binomial, built factor by factor.
std::vector<double> mannWhitneyCounts(int m, int n) {
    const auto size = static_cast<std::size_t>(m * n) + 1;
    std::vector<double> counts(size, 0.0);
    counts[0] = 1.0;
    for (int k = 1; k <= m; ++k) {
        const auto up = static_cast<std::size_t>(n + k);
        for (std::size_t u = size; u-- > up;)
            counts[u] -= counts[u - up];
        const auto down = static_cast<std::size_t>(k);
        for (std::size_t u = down; u < size; ++u)
            counts[u] += counts[u - down];
    }
    return counts;
}

/// The largest rank whose lower tail still fits; `weights` are in proportion to the probabilities.
int rankWithin(const std::vector<double>& weights, double total) {
    double tail = 0.0;
    for (std::size_t rank = 0; rank < weights.size(); ++rank) {
        tail += weights[rank] / total;
        if (tail > intervalTail + tailTolerance)
            return static_cast<int>(rank);
    }
    return 0;
}

double orderStatistic(std::vector<double>& values, std::size_t index) {
    const auto at = values.begin() + static_cast<std::ptrdiff_t>(index);
    std::nth_element(values.begin(), at, values.end());
    return *at;
}

/// Median and the interval between the rank-th smallest and largest.
Estimate between(std::vector<double> values, int rank, int n) {
    const auto first = static_cast<std::size_t>(rank - 1);
    Estimate estimate;
    estimate.low = orderStatistic(values, first);
    estimate.high = orderStatistic(values, values.size() - 1 - first);
    estimate.value = median(std::move(values));
    estimate.n = n;
    return estimate;
}

std::vector<double> absoluteDeviations(const std::vector<double>& values, double centre) {
    std::vector<double> deviations;
    deviations.reserve(values.size());
    for (const double value : values)
        deviations.push_back(std::abs(value - centre));
    return deviations;
}

std::optional<Estimate> scaledMedian(std::vector<double> absolute) {
    auto estimate = medianEstimate(std::move(absolute));
    if (estimate) {
        estimate->value *= madToSigma;
        estimate->low *= madToSigma;
        estimate->high *= madToSigma;
    }
    return estimate;
}

/// Every k-th value, so that at most shiftSampleLimit are left.
std::vector<double> thinned(std::span<const double> values) {
    const std::size_t step = (values.size() + shiftSampleLimit - 1) / shiftSampleLimit;
    std::vector<double> kept;
    for (std::size_t i = 0; i < values.size(); i += step)
        kept.push_back(values[i]);
    return kept;
}

std::vector<double> logarithms(std::span<const double> values) {
    std::vector<double> logs;
    logs.reserve(values.size());
    for (const double value : values)
        logs.push_back(std::log(value));
    return logs;
}

std::vector<double> pairSlopes(std::span<const double> x, std::span<const double> y) {
    std::vector<double> slopes;
    const auto add = [&](std::size_t i, std::size_t j) {
        if (x[j] > x[i])
            slopes.push_back((y[j] - y[i]) / (x[j] - x[i]));
    };
    if (x.size() > allPairsLimit) {
        const std::size_t half = x.size() / 2;
        for (std::size_t i = 0; i + half < x.size(); ++i)
            add(i, i + half);
        return slopes;
    }
    slopes.reserve(x.size() * (x.size() - 1) / 2);
    for (std::size_t i = 0; i < x.size(); ++i)
        for (std::size_t j = i + 1; j < x.size(); ++j)
            add(i, j);
    return slopes;
}

} // namespace

int medianIntervalRank(int n) {
    if (n < minObservations)
        return 0;
    if (n > exactMedianLimit)
        return static_cast<int>(std::floor((n + 1) / 2.0 - normalQuantile * std::sqrt(n) / 2.0));
    std::vector<double> probabilities{std::pow(0.5, n)};
    for (int k = 1; k <= n; ++k)
        probabilities.push_back(probabilities.back() * (n - k + 1) / k);
    return rankWithin(probabilities, 1.0);
}

int shiftIntervalRank(int m, int n) {
    if (m < 1 || n < 1)
        return 0;
    const double pairs = static_cast<double>(m) * n;
    if (pairs > exactShiftLimit) {
        const double spread = std::sqrt(pairs * (m + n + 1.0) / 12.0);
        return std::max(0, static_cast<int>(std::floor(pairs / 2.0 - normalQuantile * spread)));
    }
    const std::vector<double> counts = mannWhitneyCounts(m, n);
    double total = 0.0;
    for (const double count : counts)
        total += count;
    return rankWithin(counts, total);
}

std::optional<Estimate> medianEstimate(std::vector<double> values) {
    const int n = static_cast<int>(values.size());
    const int rank = medianIntervalRank(n);
    if (rank == 0)
        return std::nullopt;
    return between(std::move(values), rank, n);
}

std::optional<Estimate> spreadEstimate(const std::vector<double>& values) {
    return values.empty() ? std::nullopt : scaledMedian(absoluteDeviations(values, median(values)));
}

std::optional<Estimate> residualSpreadEstimate(const std::vector<double>& residuals) {
    return scaledMedian(absoluteDeviations(residuals, 0.0));
}

std::optional<Estimate> shiftEstimate(std::span<const double> a, std::span<const double> b) {
    const std::vector<double> left = thinned(a);
    const std::vector<double> right = thinned(b);
    const int rank = shiftIntervalRank(static_cast<int>(left.size()), static_cast<int>(right.size()));
    if (rank == 0)
        return std::nullopt;
    std::vector<double> differences;
    differences.reserve(left.size() * right.size());
    for (const double x : left)
        for (const double y : right)
            differences.push_back(x - y);
    return between(std::move(differences), rank, static_cast<int>(left.size() + right.size()));
}

std::optional<Estimate> ratioEstimate(std::span<const double> a, std::span<const double> b) {
    auto estimate = shiftEstimate(logarithms(a), logarithms(b));
    if (!estimate)
        return std::nullopt;
    estimate->value = std::exp(estimate->value);
    estimate->low = std::exp(estimate->low);
    estimate->high = std::exp(estimate->high);
    return estimate;
}

Line robustLine(std::span<const double> x, std::span<const double> y) {
    Line line;
    std::vector<double> slopes = pairSlopes(x, y);
    if (!slopes.empty())
        line.slope = median(std::move(slopes));
    std::vector<double> intercepts;
    intercepts.reserve(x.size());
    for (std::size_t i = 0; i < x.size(); ++i)
        intercepts.push_back(y[i] - line.slope * x[i]);
    line.intercept = median(std::move(intercepts));
    return line;
}

} // namespace valveladder
