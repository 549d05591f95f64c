#include "Support/Settings.h"

#include <gtest/gtest.h>

#include <cstdio>
#include <cstdlib>

namespace valveladder::test {

std::int64_t setting(const char* name, std::int64_t fallback) {
    const char* text = std::getenv(name);
    const std::int64_t value = text ? std::atoll(text) : fallback;
    ::testing::Test::RecordProperty(name, std::to_string(value));
    return value;
}

std::uint64_t seed() {
    const auto value = static_cast<std::uint64_t>(setting("VALVE_LADDER_SEED", 20250301));
    std::printf("VALVE_LADDER_SEED=%llu\n", static_cast<unsigned long long>(value));
    return value;
}

} // namespace valveladder::test
