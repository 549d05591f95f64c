#pragma once

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

/// Rows of features, and whether each is so: 1 or 0.
struct LogisticRows {
    std::vector<std::vector<double>> features;
    std::vector<double> so;
};

/// Newton's method on the penalised log likelihood: all weights but the first held towards 0 as if each were
/// known within 1 beforehand.
[[nodiscard]] std::vector<double> logisticWeights(const LogisticRows& rows);

template <std::size_t size>
[[nodiscard]] std::array<double, size> fitted(const std::vector<Sample<size>>& samples) {
    LogisticRows rows;
    for (const Sample<size>& sample : samples) {
        rows.features.emplace_back(sample.features.begin(), sample.features.end());
        rows.so.push_back(sample.so ? 1.0 : 0.0);
    }
    std::array<double, size> weights{};
    std::ranges::copy(logisticWeights(rows), weights.begin());
    return weights;
}

} // namespace valveladder::testing
