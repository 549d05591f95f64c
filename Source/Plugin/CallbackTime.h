#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <utility>

namespace valveladder {

/// The time of each audio block on the computer's clock, without the jitter of the callbacks. [audio]: no
/// allocation.
///
/// A line of least squares through the last callbacks' times over their sample counts, as Ableton Link's own
/// filter has it. Unlike that one it begins anew where the line would lead astray: at another sample rate,
/// and where no block came for a while (the clock stood, or the device).
class CallbackTime {
public:
    /// A block of `samples` is called for at `nowMicros`; its time, microseconds.
    [[nodiscard]] std::int64_t block(int samples, double sampleRate, std::int64_t nowMicros) noexcept;
    /// The next block begins anew.
    void reset() noexcept;

private:
    using Point = std::pair<double, double>; ///< samples, microseconds; both from the first
    static constexpr std::size_t capacity = 512;

    [[nodiscard]] bool follows(double sampleRate, double now) const noexcept;

    std::array<Point, capacity> points{};
    std::size_t count = 0, next = 0;
    double samplesDone = 0.0;
    double rate = 0.0;
    std::int64_t firstMicros = 0;
    double lastTime = 0.0, lastMicros = 0.0; ///< of the block before: its time, and its length
};

} // namespace valveladder
