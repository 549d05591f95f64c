#include "Findings/LineFit.h"

#include "Findings/Bootstrap.h"
#include "Findings/Distributions.h"

#include <cmath>
#include <limits>

namespace valveladder {

LineFit leastSquares(const Eigen::MatrixXd& x, const Eigen::VectorXd& y, const Eigen::VectorXd& weights) {
    LineFit fit;
    const Eigen::VectorXd roots =
        weights.size() > 0 ? Eigen::VectorXd(weights.cwiseSqrt()) : Eigen::VectorXd::Ones(y.size());
    const Eigen::MatrixXd scaled = roots.asDiagonal() * x;
    const Eigen::VectorXd target = roots.cwiseProduct(y);
    const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(scaled);
    fit.coefficients = qr.solve(target);
    fit.freedom = static_cast<double>(x.rows() - qr.rank());
    if (qr.rank() < x.cols() || fit.freedom < 1.0) {
        fit.standardErrors = Eigen::VectorXd::Constant(x.cols(), std::numeric_limits<double>::infinity());
        return fit;
    }
    const double variance = (target - scaled * fit.coefficients).squaredNorm() / fit.freedom;
    fit.standardErrors =
        (variance * (scaled.transpose() * scaled).inverse().diagonal()).cwiseMax(0.0).cwiseSqrt();
    return fit;
}

Estimate LineFit::estimate(int column, int observations, double share) const {
    const double value = coefficients[column];
    if (freedom < 1.0)
        return {value, -standardErrors[column], standardErrors[column], observations};
    const double reach = studentReach(freedom, share) * standardErrors[column];
    return {value, value - reach, value + reach, observations};
}

double LineFit::twoSidedP(int column) const {
    if (freedom < 1.0 || !std::isfinite(standardErrors[column]) || standardErrors[column] <= 0.0)
        return 1.0;
    return studentTwoSidedP(freedom, coefficients[column] / standardErrors[column]);
}

} // namespace valveladder
