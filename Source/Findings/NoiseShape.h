#pragma once

#include "Findings/Observations.h"

#include <Eigen/Dense>

#include <vector>

namespace valveladder {

/// How a player's scatter hangs together along a segment: of its variance the share `drift` wanders
/// (first-order autoregression by note, correlation `memory` from one note to the next), the rest is each
/// note's own.
struct NoiseShape {
    double drift = 0.0;  ///< 0..1
    double memory = 0.0; ///< 0..1

    /// Correlation of the scatter of notes so many apart, 1 for the same note.
    [[nodiscard]] double correlation(int notes) const;
    /// layout.size() squared.
    [[nodiscard]] Eigen::MatrixXd correlations(const Layout& layout) const;

    bool operator==(const NoiseShape&) const = default;
};

/// Assumed until enough whole blocks tell another; ours, between steady and wandering players.
inline constexpr NoiseShape usualNoise{0.3, 0.9};
inline constexpr int leastBlocksForNoise = 6;

/// The likeliest of a grid of shapes, by restricted maximum likelihood (Patterson & Thompson, "Recovery of
/// Inter-Block Information when Block Sizes are Unequal", Biometrika 58, 1971) from blocks measured whole.
/// `residuals`: one for each observation, units of y, already held against blunders.
[[nodiscard]] NoiseShape likeliestNoise(const ObservationTable& table, const std::vector<double>& residuals);

/// layout.size() x 2: ones, and onsets scaled to -1..1.
[[nodiscard]] Eigen::MatrixXd lineBasis(const Layout& layout);

} // namespace valveladder
