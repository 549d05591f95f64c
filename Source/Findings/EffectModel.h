#pragma once

#include "Findings/BlockMetric.h"
#include "Findings/Suspect.h"

#include <Eigen/Dense>
#include <Eigen/SparseCore>

#include <vector>

namespace valveladder {

/// Everything about a table that does not depend on the effects asked for: its blocks' weights, summed by
/// kind of change, so that a further effect costs kinds and not notes. Weights by age; each take's level (or
/// each block's line) is taken from measures and columns alike.
class EffectModel {
public:
    /// `table` must outlive this. `terms`: kinds x any, what every fit holds beside the effects asked for.
    EffectModel(const ObservationTable& table, const NoiseShape& noise, Eigen::MatrixXd terms);
    /// With the circumstances as terms.
    EffectModel(const ObservationTable& table, const NoiseShape& noise);

    [[nodiscard]] const ObservationTable& table() const { return observations; }
    [[nodiscard]] const BlockMetrics& metrics() const { return blockMetrics; }
    [[nodiscard]] const NoiseShape& noise() const { return shape; }
    [[nodiscard]] const Eigen::MatrixXd& terms() const { return heldTerms; }

    /// columns' W columns; `columns`: kinds x any. W weighs by age, or by its square.
    [[nodiscard]] Eigen::MatrixXd gram(const Eigen::MatrixXd& columns) const;
    [[nodiscard]] Eigen::MatrixXd gramSquared(const Eigen::MatrixXd& columns) const;

    /// Measures (one for each observation) gathered for products with columns.
    struct Gathered {
        Eigen::VectorXd byKind;     ///< products with each kind's indicator, take levels removed
        Eigen::VectorXd takeLevels; ///< weighted mean of each take; 0 with lines
    };
    [[nodiscard]] Gathered gather(const std::vector<double>& values) const;

    /// Weighted mean of a value by kind in each take; 0 with lines.
    [[nodiscard]] Eigen::VectorXd takeMeans(const Eigen::VectorXd& byKind) const;

    /// values - byKind - (the take's level or the block's line of what is left), one for each observation.
    [[nodiscard]] std::vector<double> residuals(const std::vector<double>& values,
                                                const Eigen::VectorXd& byKind) const;
    /// The same with baselines found from `held` instead of `values`.
    [[nodiscard]] std::vector<double> residuals(const std::vector<double>& values,
                                                const std::vector<double>& held,
                                                const Eigen::VectorXd& byKind) const;
    /// Sum of age weight x r' W r over blocks; `residuals` have their baselines removed.
    [[nodiscard]] double weightedSquares(const std::vector<double>& residuals) const;
    /// What a unit of each observation adds to byKind' W y: age weight x (W (byKind - its take mean)).
    [[nodiscard]] std::vector<double> leverages(const Eigen::VectorXd& byKind) const;

    [[nodiscard]] double totalWeight() const { return weightSum; }
    /// Degrees of freedom that the baselines cost.
    [[nodiscard]] double baselineFreedom() const;

private:
    void sumWeights();
    void addTake(int take, std::vector<Eigen::Triplet<double>>& shares);
    [[nodiscard]] Eigen::VectorXd valuesIn(const Block& block, const std::vector<double>& values) const;
    [[nodiscard]] Eigen::VectorXd kindsIn(const Block& block, const Eigen::VectorXd& byKind) const;

    const ObservationTable& observations;
    NoiseShape shape;
    Eigen::MatrixXd heldTerms;
    BlockMetrics blockMetrics;
    Eigen::SparseMatrix<double> byKinds;        ///< kinds squared, weighted by age
    Eigen::SparseMatrix<double> byKindsSquared; ///< by its square
    Eigen::SparseMatrix<double> takeShares;     ///< kinds x takes: W 1 of each take
    Eigen::VectorXd takeSums;                   ///< 1' W 1 of each take, 0 with lines
    Eigen::VectorXd takeWeights;
    double weightSum = 0.0;
};

/// kinds x suspects, 1 where the suspect is involved.
[[nodiscard]] Eigen::MatrixXd columnsOf(const std::vector<ChangeEvidence>& kinds,
                                        const std::vector<Suspect>& suspects);

/// kinds x circumstances::count.
[[nodiscard]] Eigen::MatrixXd circumstancesOf(const std::vector<ChangeEvidence>& kinds);

} // namespace valveladder
