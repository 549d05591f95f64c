#pragma once

#include "Findings/Bootstrap.h"
#include "Listening/Performance.h"

#include <Eigen/Dense>

namespace valveladder {

/// Least squares with Student intervals, for a few values that are summaries themselves (of takes, of days).
struct LineFit {
    Eigen::VectorXd coefficients;
    Eigen::VectorXd standardErrors;
    double freedom = 0.0;

    /// With the interval of `share`; n = observations.
    [[nodiscard]] Estimate estimate(int column, int observations, double share = intervalShare) const;
    [[nodiscard]] double twoSidedP(int column) const;
};

/// `weights`: one for each row, or empty for equal ones. Precondition: more rows than columns, columns not
/// collinear (else the standard errors are infinite and the p values 1).
[[nodiscard]] LineFit leastSquares(const Eigen::MatrixXd& x, const Eigen::VectorXd& y,
                                   const Eigen::VectorXd& weights = {});

} // namespace valveladder
