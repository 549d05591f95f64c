#pragma once

#include "Findings/Circumstances.h"
#include "Findings/EffectModel.h"

#include <Eigen/Dense>

#include <vector>

namespace valveladder {

/// Effects of the model's terms (circumstances) and of the columns given, by generalised least squares
/// (EffectModel) on values whose residuals are held within holdLimit scales (Huber's M-estimate by
/// pseudo-values; Huber, "Robust Statistics", 1981, sections 7.6 and 7.8).
class EffectFit {
public:
    /// `columns`: kinds x effects; `y`: one value for each observation of the model's table. `model` must
    /// outlive this.
    EffectFit(const EffectModel& model, const Eigen::MatrixXd& columns, const std::vector<double>& y);

    /// Of the columns given, in order.
    [[nodiscard]] double effect(int column) const { return beta[termCount() + column]; }
    [[nodiscard]] double standardError(int column) const;
    /// Standard error of a sum of the columns' effects, each times its factor.
    [[nodiscard]] double standardError(const Eigen::VectorXd& factors) const;
    [[nodiscard]] const Eigen::VectorXd& coefficients() const { return beta; }
    [[nodiscard]] double freedom() const { return degrees; }
    [[nodiscard]] double limit() const { return heldWithin; }   ///< residuals were held within it, units of y
    [[nodiscard]] double inside() const { return insideShare; } ///< share of residuals that were within it
    /// What a unit of each observation adds to an effect.
    [[nodiscard]] std::vector<double> leverages(int column) const;
    /// Residuals, held; one for each observation.
    [[nodiscard]] const std::vector<double>& heldResiduals() const { return residuals; }
    /// What the fit leaves of each measure given (the y of the constructor, or the like), nothing held back.
    [[nodiscard]] std::vector<double> left(const std::vector<double>& y) const;
    /// What each observation adds to an effect's error: weight x leverage x residual; sums to about 0.
    [[nodiscard]] std::vector<double> influence(int column) const;
    /// Each take's share in an effect, sums to 1; 0 for takes that say nothing of it.
    [[nodiscard]] std::vector<double> takeShares(int column) const;
    /// Of each take's own effect, from the residuals' spread; 0 where its share is.
    [[nodiscard]] std::vector<double> takeStandardErrors(int column) const;

    /// t values of single further columns, each tested alone on top of this model.
    struct Scan {
        Eigen::VectorXd t;           ///< 0 where not testable
        Eigen::VectorXd effect;      ///< units of y
        Eigen::VectorXd tolerance;   ///< share of the column's variance that the model does not explain
        Eigen::MatrixXd correlation; ///< of the t values under no effect
    };
    [[nodiscard]] Scan scan(const Eigen::MatrixXd& further) const;

    /// A column of which the model explains more than this leaves too little to test.
    static constexpr double leastTolerance = 0.02;
    /// In scales of the residuals. Between Huber's 1.345 (95 % of least squares on normal noise) and 2.5:
    /// with the heavy tails of real playing (Student t with few degrees of freedom) tighter is sharper.
    static constexpr double holdLimit = 1.5;

private:
    [[nodiscard]] Eigen::Index termCount() const { return model.terms().cols(); }
    [[nodiscard]] Eigen::VectorXd leverageOf(int column) const;
    double holdResiduals(const std::vector<double>& y); ///< the limit they were held within
    void finish();

    const EffectModel& model;
    Eigen::MatrixXd design;   ///< kinds x (terms + columns)
    std::vector<double> held; ///< y with residuals held
    std::vector<double> residuals;
    Eigen::VectorXd beta;
    Eigen::MatrixXd gram;
    Eigen::MatrixXd inverse; ///< of the gram, shrunk
    double spread = 0.0;     ///< of the residuals, units of y
    double degrees = 1.0;
    double insideShare = 1.0;
    double heldWithin = 0.0;
};

} // namespace valveladder
