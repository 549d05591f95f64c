#pragma once

#include <array>
#include <cstddef>
#include <span>

namespace valveladder {

/// A pitch over time: steady, then straight from knot to knot (in frequency), then steady again. Times in
/// samples, frequencies in cycles a sample. The phase is 0 at the first knot.
class PitchPath {
public:
    struct Knot {
        double time = 0.0;
        double frequency = 0.0; ///< > 0
    };
    static constexpr std::size_t maxKnots = 12;

    /// One knot to maxKnots of them, times not falling.
    explicit PitchPath(std::span<const Knot> given);

    /// Cycles since the first knot; negative before it.
    [[nodiscard]] double phase(double time) const;
    /// The time of a phase: the inverse of phase().
    [[nodiscard]] double time(double phase) const;

private:
    std::array<Knot, maxKnots> knots{};
    std::array<double, maxKnots> phases{};
    std::size_t count;
};

} // namespace valveladder
