#include "Tuning/LogisticFit.h"

#include <Eigen/Dense>

namespace valveladder::testing {

namespace {

constexpr int rounds = 50;
constexpr double ridge = 1.0; ///< precision of every weight but the first
constexpr double firstRidge = 0.05;

Eigen::VectorXd fittedTo(const Eigen::MatrixXd& x, const Eigen::VectorXd& y) {
    Eigen::VectorXd penalty = Eigen::VectorXd::Constant(x.cols(), ridge);
    penalty[0] = firstRidge;
    Eigen::VectorXd weights = Eigen::VectorXd::Zero(x.cols());
    for (int round = 0; round < rounds; ++round) {
        const Eigen::ArrayXd p = 1.0 / (1.0 + (-(x * weights)).array().exp());
        const Eigen::VectorXd gradient =
            x.transpose() * (y.array() - p).matrix() - penalty.cwiseProduct(weights);
        Eigen::MatrixXd hessian = x.transpose() * (p * (1.0 - p)).matrix().asDiagonal() * x;
        hessian.diagonal() += penalty;
        weights += hessian.ldlt().solve(gradient);
    }
    return weights;
}

} // namespace

std::vector<double> logisticWeights(const LogisticRows& rows) {
    const auto count = static_cast<Eigen::Index>(rows.so.size());
    const auto size = static_cast<Eigen::Index>(rows.features.empty() ? 1 : rows.features.front().size());
    Eigen::MatrixXd x(count, size);
    Eigen::VectorXd y(count);
    for (Eigen::Index i = 0; i < count; ++i) {
        const auto at = static_cast<std::size_t>(i);
        x.row(i) = Eigen::Map<const Eigen::RowVectorXd>(rows.features[at].data(), size);
        y[i] = rows.so[at];
    }
    const Eigen::VectorXd weights = fittedTo(x, y);
    return {weights.begin(), weights.end()};
}

} // namespace valveladder::testing
