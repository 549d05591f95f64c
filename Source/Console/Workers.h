#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <thread>
#include <vector>

namespace valveladder::console {

/// Runs work(0) .. work(count - 1) on `workers` threads (this one and others), in that order of beginning.
/// Returns when all are done; work must not throw.
template <typename Work>
void shareOut(std::size_t count, int workers, const Work& work) {
    std::atomic<std::size_t> next{0};
    const auto run = [&] {
        for (std::size_t i = next++; i < count; i = next++)
            work(i);
    };
    std::vector<std::jthread> others;
    const std::size_t threads = std::min(count, static_cast<std::size_t>(std::max(1, workers)));
    for (std::size_t i = 1; i < threads; ++i)
        others.emplace_back(run);
    run();
}

/// As many workers as the machine has cores.
[[nodiscard]] inline int usualWorkers() {
    return std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
}

} // namespace valveladder::console
