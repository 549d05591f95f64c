#pragma once

#include "Findings/Observations.h"
#include "Findings/Suspect.h"

#include <Eigen/Dense>

#include <vector>

namespace valveladder {

/// Terms every model holds, so that a suspect is not blamed for the circumstances it was played in: touch,
/// long and short notes, fingers moved, direction, interval, jump of partial. Tempo, and all else that is the
/// same throughout a take, is taken up by the take's own mean.
namespace circumstances {
inline constexpr int count = 7;
/// Shrunk as if one further observation had shown none of them (ridge), so that collinear ones stay finite.
inline constexpr double ridge = 1.0;
[[nodiscard]] Eigen::RowVectorXd row(const ChangeEvidence& kind);
[[nodiscard]] const char* name(int term);
} // namespace circumstances

/// Effects of circumstances and of the columns given, within takes, by weighted ridge regression on values
/// whose residuals are held within huberWideLimit scales (Huber's M-estimate by pseudo-values; Huber, "Robust
/// Statistics", 1981, section 7.8).
class EffectFit {
public:
    /// `columns`: kinds x effects; `y`: one value for each observation of the table, which must outlive this.
    EffectFit(const ObservationTable& table, const Eigen::MatrixXd& columns, const std::vector<double>& y);

    /// Of the columns given, in order.
    [[nodiscard]] double effect(int column) const { return beta[circumstances::count + column]; }
    [[nodiscard]] double standardError(int column) const;
    [[nodiscard]] const Eigen::VectorXd& coefficients() const { return beta; }
    [[nodiscard]] double sigma() const { return spread; } ///< of the residuals, units of y
    [[nodiscard]] double freedom() const { return degrees; }
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
    static constexpr double leastTolerance = 0.1;

private:
    struct Moments {
        Eigen::MatrixXd gram;        ///< sum w d d', d centred within takes
        Eigen::MatrixXd gramSquared; ///< sum w^2 d d'
        Eigen::VectorXd products;    ///< sum w d y
        double squares = 0.0;        ///< sum w y^2
        double weights = 0.0;
        double count = 0.0;
    };
    [[nodiscard]] Moments momentsOf(const Eigen::MatrixXd& design) const;
    [[nodiscard]] Eigen::VectorXd solve(const Moments& moments) const;
    [[nodiscard]] Eigen::VectorXd takeMeanRow(const Eigen::MatrixXd& design, int take) const;
    [[nodiscard]] std::vector<double> leverages(int column) const;
    double holdResiduals(const std::vector<double>& y); ///< the limit they were held within
    void finish();

    const ObservationTable& table;
    Eigen::MatrixXd design;   ///< kinds x (circumstances + columns)
    std::vector<double> held; ///< y with residuals held
    std::vector<double> residuals;
    Eigen::VectorXd beta;
    Eigen::MatrixXd inverse;
    Eigen::MatrixXd gramSquared;
    double spread = 0.0;
    double degrees = 1.0;
};

/// kinds x suspects, 1 where the suspect is involved.
[[nodiscard]] Eigen::MatrixXd columnsOf(const std::vector<ChangeEvidence>& kinds,
                                        const std::vector<Suspect>& suspects);

} // namespace valveladder
