#pragma once

#include <cstddef>
#include <span>

namespace valveladder {

/// Sum of a[i] * b[i] over `count` samples.
[[nodiscard]] double dotProduct(const float* a, const float* b, std::size_t count);

/// How alike two stretches of `count` samples are: twice their product over `energy`, the sum of both their
/// squares; 1 = the same, 0 where the energy is no more than `silence`.
[[nodiscard]] inline double correlationOf(const float* a, const float* b, std::size_t count, double energy,
                                          double silence) {
    return energy > silence ? 2.0 * dotProduct(a, b, count) / energy : 0.0;
}

} // namespace valveladder
