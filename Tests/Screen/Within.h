#pragma once

#include <chrono>
#include <thread>

namespace valveladder {

/// Waits for what another thread does; false when `condition` does not hold within `limit`.
template <typename Condition>
bool within(std::chrono::seconds limit, Condition condition) {
    const auto end = std::chrono::steady_clock::now() + limit;
    while (!condition()) {
        if (std::chrono::steady_clock::now() > end)
            return false;
        std::this_thread::sleep_for(std::chrono::milliseconds(2));
    }
    return true;
}

} // namespace valveladder
