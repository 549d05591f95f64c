#pragma once

#include <cstdint>

namespace valveladder::testing {

/// Bytes of memory this process holds: resident pages; in builds with a sanitizer, whose allocator keeps back
/// what was freed, the bytes now allocated.
[[nodiscard]] std::int64_t memoryInUse();

} // namespace valveladder::testing
