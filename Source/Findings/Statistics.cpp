#include "Findings/Statistics.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace valveladder {

namespace {

constexpr int maxRounds = 100;
constexpr double convergedAt = 1e-10; // relative change of the coefficients

double scaledMadAboutZero(const Eigen::VectorXd& residuals) {
    std::vector<double> sizes(static_cast<std::size_t>(residuals.size()));
    for (Eigen::Index i = 0; i < residuals.size(); ++i)
        sizes[static_cast<std::size_t>(i)] = std::abs(residuals[i]);
    return madToSigma * quantile(std::move(sizes), 0.5);
}

} // namespace

double weightedQuantile(std::vector<double> values, const std::vector<double>& weights, double share) {
    std::vector<std::size_t> order(values.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](auto a, auto b) { return values[a] < values[b]; });
    const double total = std::accumulate(weights.begin(), weights.end(), 0.0);
    const double wanted = share * total;
    double below = 0.0;
    for (std::size_t i = 0; i < order.size(); ++i) {
        below += weights[order[i]];
        const bool between = std::abs(below - wanted) <= 1e-12 * total;
        if (between && i + 1 < order.size())
            return (values[order[i]] + values[order[i + 1]]) / 2.0;
        if (below >= wanted)
            return values[order[i]];
    }
    return values[order.back()];
}

double weightedMedian(const std::vector<double>& values, const std::vector<double>& weights) {
    return weightedQuantile(values, weights, 0.5);
}

double quantile(std::vector<double> values, double share) {
    const double position = share * static_cast<double>(values.size() - 1);
    const auto below = static_cast<std::ptrdiff_t>(std::floor(position));
    std::nth_element(values.begin(), values.begin() + below, values.end());
    const double low = values[static_cast<std::size_t>(below)];
    const double part = position - static_cast<double>(below);
    if (part == 0.0)
        return low;
    const double high = *std::min_element(values.begin() + below + 1, values.end());
    return low + part * (high - low);
}

double huberPsi(double residual, double limit) {
    return std::clamp(residual, -limit, limit);
}

Eigen::VectorXd ridgeSolve(const Eigen::MatrixXd& x, const Eigen::VectorXd& y, const Eigen::VectorXd& ridge) {
    // Rows sqrt(ridge) below X make it a plain least-squares problem, better conditioned than X'X.
    const auto n = x.rows();
    const auto p = x.cols();
    Eigen::MatrixXd stacked = Eigen::MatrixXd::Zero(n + p, p);
    stacked.topRows(n) = x;
    stacked.bottomRows(p).diagonal() = ridge.cwiseSqrt();
    Eigen::VectorXd target = Eigen::VectorXd::Zero(n + p);
    target.head(n) = y;
    return stacked.completeOrthogonalDecomposition().solve(target);
}

RobustFit huberRidge(const Eigen::MatrixXd& x, const Eigen::VectorXd& y, const Eigen::VectorXd& ridge,
                     double limit) {
    RobustFit fit;
    fit.coefficients = ridgeSolve(x, y, ridge);
    while (fit.rounds < maxRounds) {
        const Eigen::VectorXd residuals = y - x * fit.coefficients;
        fit.scale = scaledMadAboutZero(residuals);
        ++fit.rounds;
        if (fit.scale <= 0.0)
            break;
        Eigen::VectorXd rootWeights(y.size());
        for (Eigen::Index i = 0; i < y.size(); ++i) {
            const double size = std::abs(residuals[i]) / fit.scale;
            rootWeights[i] = size <= limit ? 1.0 : std::sqrt(limit / size);
        }
        const Eigen::VectorXd next =
            ridgeSolve(rootWeights.asDiagonal() * x, rootWeights.cwiseProduct(y), ridge);
        const double moved = (next - fit.coefficients).norm();
        fit.coefficients = next;
        if (moved <= convergedAt * (1.0 + next.norm()))
            break;
    }
    return fit;
}

} // namespace valveladder
