#include "Findings/MultipleTests.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>

namespace valveladder {

namespace {

std::vector<std::size_t> risingOrder(const std::vector<double>& values) {
    std::vector<std::size_t> order(values.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return values[a] < values[b]; });
    return order;
}

Eigen::MatrixXd squareRoot(const Eigen::MatrixXd& correlation) {
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(correlation);
    return eigen.eigenvectors() * eigen.eigenvalues().cwiseMax(0.0).cwiseSqrt().asDiagonal();
}

} // namespace

std::vector<double> holm(const std::vector<double>& p) {
    const auto order = risingOrder(p);
    std::vector<double> adjusted(p.size());
    double most = 0.0;
    for (std::size_t i = 0; i < order.size(); ++i) {
        most = std::max(most, std::min(1.0, p[order[i]] * static_cast<double>(p.size() - i)));
        adjusted[order[i]] = most;
    }
    return adjusted;
}

MaxT::MaxT(const Eigen::MatrixXd& correlation, double freedom, std::uint64_t seed) {
    std::mt19937_64 random(seed);
    std::normal_distribution<double> normal;
    std::chi_squared_distribution<double> chiSquared(std::max(1.0, freedom));
    constexpr Eigen::Index block = 500;
    const Eigen::MatrixXd root = squareRoot(correlation);
    Eigen::MatrixXd noise(correlation.rows(), block);
    largest.reserve(draws);
    for (int done = 0; done < draws; done += static_cast<int>(block)) {
        for (Eigen::Index i = 0; i < noise.size(); ++i)
            noise.data()[i] = normal(random);
        const Eigen::RowVectorXd top = (root * noise).colwise().maxCoeff();
        for (Eigen::Index i = 0; i < block; ++i)
            largest.push_back(top[i] / std::sqrt(chiSquared(random) / std::max(1.0, freedom)));
    }
    std::sort(largest.begin(), largest.end());
}

double MaxT::p(double t) const {
    const auto above = largest.end() - std::lower_bound(largest.begin(), largest.end(), t);
    return static_cast<double>(above) / static_cast<double>(largest.size());
}

double MaxT::limit(double alpha) const {
    const auto rank = std::clamp(
        static_cast<std::ptrdiff_t>(std::ceil((1.0 - alpha) * static_cast<double>(largest.size()))),
        std::ptrdiff_t{0}, static_cast<std::ptrdiff_t>(largest.size()) - 1);
    return largest[static_cast<std::size_t>(rank)];
}

} // namespace valveladder
