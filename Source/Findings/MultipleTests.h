#pragma once

#include <Eigen/Dense>

#include <cstdint>
#include <vector>

namespace valveladder {

/// p values adjusted so that the chance of any false one under alpha stays under alpha (Holm, "A Simple
/// Sequentially Rejective Multiple Test Procedure", 1979). Same order as given.
[[nodiscard]] std::vector<double> holm(const std::vector<double>& p);

/// Distribution of the largest of several one-sided t values under no effect, given how they hang together:
/// the single-step max-t procedure (Hothorn, Bretz & Westfall, "Simultaneous Inference in General Parametric
/// Models", Biometrical Journal 50, 2008), by seeded draws.
class MaxT {
public:
    static constexpr int draws = 8000;

    /// `correlation`: symmetric, ones on the diagonal, may be singular. `freedom`: of the residual scale.
    MaxT(const Eigen::MatrixXd& correlation, double freedom, std::uint64_t seed);

    /// Chance that the largest t under no effect reaches `t`.
    [[nodiscard]] double p(double t) const;
    /// The t whose p is `alpha`.
    [[nodiscard]] double limit(double alpha) const;

private:
    std::vector<double> largest; // sorted, rising
};

} // namespace valveladder
