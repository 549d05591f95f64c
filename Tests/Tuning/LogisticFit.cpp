#include "Tuning/LogisticFit.h"

namespace valveladder::testing {

namespace {

constexpr int rounds = 50;
constexpr double ridge = 1.0; ///< precision of every weight but the first
constexpr double firstRidge = 0.05;

} // namespace

Eigen::VectorXd logisticWeights(const Eigen::MatrixXd& x, const Eigen::VectorXd& so) {
    Eigen::VectorXd penalty = Eigen::VectorXd::Constant(x.cols(), ridge);
    penalty[0] = firstRidge;
    Eigen::VectorXd weights = Eigen::VectorXd::Zero(x.cols());
    for (int round = 0; round < rounds; ++round) {
        const Eigen::ArrayXd p = 1.0 / (1.0 + (-(x * weights)).array().exp());
        const Eigen::VectorXd gradient =
            x.transpose() * (so.array() - p).matrix() - penalty.cwiseProduct(weights);
        Eigen::MatrixXd hessian = x.transpose() * (p * (1.0 - p)).matrix().asDiagonal() * x;
        hessian.diagonal() += penalty;
        weights += hessian.ldlt().solve(gradient);
    }
    return weights;
}

} // namespace valveladder::testing
