#pragma once

#include <Eigen/Dense>

#include <vector>

namespace valveladder {

/// Quantile of the weights' distribution at `share` 0..1 of the total weight; the mean of the two middle
/// values where the share falls exactly between them. With equal weights and share 0.5 this is the median.
/// Preconditions: as many weights as values, at least one positive.
[[nodiscard]] double weightedQuantile(std::vector<double> values, const std::vector<double>& weights,
                                      double share);
[[nodiscard]] double weightedMedian(const std::vector<double>& values, const std::vector<double>& weights);

/// Quantile by linear interpolation, definition 7 of Hyndman & Fan, "Sample Quantiles in Statistical
/// Packages", The American Statistician 50 (1996). Precondition: not empty.
[[nodiscard]] double quantile(std::vector<double> values, double share);

/// Of a normal distribution: its standard deviation over its median absolute deviation.
inline constexpr double madToSigma = 1.4826;

/// Huber's psi: the residual, held within +-limit (Huber, "Robust Estimation of a Location Parameter", 1964).
[[nodiscard]] double huberPsi(double residual, double limit);

/// Coefficients that minimise |y - X b|^2 + sum ridge_j b_j^2 (Hoerl & Kennard, "Ridge Regression", 1970).
/// `ridge` has one entry for each column, 0 = not shrunk. With every entry 0 a rank-deficient X gives the
/// shortest solution.
[[nodiscard]] Eigen::VectorXd ridgeSolve(const Eigen::MatrixXd& x, const Eigen::VectorXd& y,
                                         const Eigen::VectorXd& ridge);

struct RobustFit {
    Eigen::VectorXd coefficients;
    double scale = 0.0; ///< 1.4826 * median |residual|, units of y
    int rounds = 0;
};

/// Limits of robust fitting, in units of the residuals' scale. 1.345 keeps 95 % of least squares' efficiency
/// on normal residuals (Huber 1964); 2.5 keeps more than 99 %.
inline constexpr double huberClassicLimit = 1.345;
inline constexpr double huberWideLimit = 2.5;

/// Huber's M-estimate by iteratively reweighted ridge regression, residual scale by the scaled MAD about
/// zero, as MASS::rlm and statsmodels RLM compute it when `ridge` is zero.
[[nodiscard]] RobustFit huberRidge(const Eigen::MatrixXd& x, const Eigen::VectorXd& y,
                                   const Eigen::VectorXd& ridge, double limit = huberClassicLimit);

} // namespace valveladder
