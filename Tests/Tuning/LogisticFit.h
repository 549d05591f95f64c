#pragma once

#include <Eigen/Dense>

#include <algorithm>
#include <array>
#include <cstddef>
#include <vector>

namespace valveladder::testing {

/// Of one thing that is so or not, what a fit weighs; the first of them 1.
template <std::size_t size>
struct Sample {
    std::array<double, size> features;
    bool so;
};

/// Newton's method on the penalised log likelihood: all weights but the first held towards 0 as if each were
/// known within 1 beforehand. `x`: a row of features each; `so`: 1 or 0 each.
[[nodiscard]] Eigen::VectorXd logisticWeights(const Eigen::MatrixXd& x, const Eigen::VectorXd& so);

template <std::size_t size>
[[nodiscard]] std::array<double, size> fitted(const std::vector<Sample<size>>& samples) {
    Eigen::MatrixXd x(samples.size(), size);
    Eigen::VectorXd so(samples.size());
    for (std::size_t i = 0; i < samples.size(); ++i) {
        const auto at = static_cast<Eigen::Index>(i);
        x.row(at) = Eigen::Map<const Eigen::RowVectorXd>(samples[i].features.data(), size);
        so[at] = samples[i].so ? 1.0 : 0.0;
    }
    std::array<double, size> weights{};
    std::ranges::copy(logisticWeights(x, so), weights.begin());
    return weights;
}

} // namespace valveladder::testing
