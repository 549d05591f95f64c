#pragma once

#include <cstddef>

namespace valveladder {

/// A position as containers want it. Precondition: `index` >= 0.
[[nodiscard]] constexpr std::size_t at(int index) noexcept {
    return static_cast<std::size_t>(index);
}

} // namespace valveladder
