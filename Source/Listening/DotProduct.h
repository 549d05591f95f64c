#pragma once

#include <cstddef>
#include <span>

namespace valveladder {

/// Sum of a[i] * b[i] over `count` samples.
[[nodiscard]] double dotProduct(const float* a, const float* b, std::size_t count);

} // namespace valveladder
