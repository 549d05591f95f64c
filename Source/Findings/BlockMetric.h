#pragma once

#include "Findings/NoiseShape.h"

#include <Eigen/Dense>

#include <vector>

namespace valveladder {

/// Generalised least squares within blocks (Aitken 1936): how the measures of a block weigh on a model once
/// their noise's correlation, and where the baseline asks for it the block's own line, are taken into
/// account. Unmeasured places of a layout are completed so that they weigh nothing, which is exact: each
/// stands for a free term of its own.
class BlockMetrics {
public:
    /// `table` must outlive this.
    BlockMetrics(const ObservationTable& table, const NoiseShape& noise);

    /// layout.size() squared: weights, with lines projected out where the baseline has them.
    [[nodiscard]] const Eigen::MatrixXd& weights(int layout) const { return metrics[index(layout)].weights; }
    /// Weights times ones; zero where lines are projected out.
    [[nodiscard]] const Eigen::VectorXd& sums(int layout) const { return metrics[index(layout)].sums; }

    /// Places of the block's layout that were not measured.
    [[nodiscard]] std::vector<int> missing(const Block& block) const;
    /// Sets the unmeasured places of `values` (layout.size()) so that they weigh nothing.
    void complete(const Block& block, Eigen::Ref<Eigen::VectorXd> values) const;
    /// What the block's own line says of completed `values`; zero without lines.
    [[nodiscard]] Eigen::VectorXd line(const Block& block, const Eigen::VectorXd& completed) const;
    /// weights(block's layout), less what its unmeasured places would have brought.
    [[nodiscard]] Eigen::MatrixXd weightsOf(const Block& block) const;

private:
    struct Metric {
        Eigen::MatrixXd weights;
        Eigen::VectorXd sums;
        Eigen::MatrixXd basis;  ///< size x 2, empty without lines
        Eigen::MatrixXd toLine; ///< 2 x size: the line's coefficients
    };
    static std::size_t index(int layout) { return static_cast<std::size_t>(layout); }
    static Metric metricOf(const Layout& layout, const NoiseShape& noise, Baseline baseline);

    const ObservationTable& table;
    std::vector<Metric> metrics;
};

} // namespace valveladder
