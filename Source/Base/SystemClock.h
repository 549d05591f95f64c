#pragma once

#include <cstdint>

namespace valveladder {

/// The computer's clock: ms since 1970-01-01 UTC.
[[nodiscard]] std::int64_t systemUtcMs();

} // namespace valveladder
