#pragma once

#include <atomic>
#include <cstdint>

namespace valveladder {

/// Puts the clicks that measure the round trip on the output, in place of whatever is there: input that ran
/// through would come back as echo.
class ClickSound {
public:
    void start() noexcept { wanted.store(++started, std::memory_order_release); } ///< [worker] a new series
    void stop() noexcept { wanted.store(none, std::memory_order_release); }       ///< [any]

    /// [audio] A block begins at `startSample`. The sample at which the series that sounds began; -1 = none.
    std::int64_t follow(std::int64_t startSample, double sampleRate) noexcept;
    /// [audio] Writes the block that follow() was told of.
    void render(float* const* channels, int channelCount, int samples) const noexcept;

private:
    static constexpr std::uint32_t none = 0;

    std::uint32_t started = none; ///< [worker] series so far
    std::atomic<std::uint32_t> wanted{none};
    // [audio]
    std::uint32_t sounding = none;
    std::int64_t series = -1;
    std::int64_t block = 0;
    double rate = 0.0;
};

} // namespace valveladder
