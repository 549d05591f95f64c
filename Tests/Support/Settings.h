#pragma once

#include <cstdint>

namespace valveladder::test {

/// A number from the environment, or `fallback`; recorded with the running test.
[[nodiscard]] std::int64_t setting(const char* name, std::int64_t fallback);

/// Seed of a random test: VALVE_LADDER_SEED, or a fixed one. Printed, so that a failure can be replayed.
[[nodiscard]] std::uint64_t seed();

} // namespace valveladder::test
