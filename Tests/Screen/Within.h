#pragma once

#include <chrono>
#include <thread>

namespace valveladder {

/// How long anything is waited for: only a test that fails waits so long, however busy the machine.
inline constexpr std::chrono::seconds patience{300};

/// Waits for what another thread does; false when `condition` never holds.
template <typename Condition>
bool eventually(Condition condition) {
    const auto end = std::chrono::steady_clock::now() + patience;
    while (!condition()) {
        if (std::chrono::steady_clock::now() > end)
            return false;
        std::this_thread::sleep_for(std::chrono::milliseconds(2));
    }
    return true;
}

} // namespace valveladder
