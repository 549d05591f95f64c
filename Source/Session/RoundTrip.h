#pragma once

#include "Base/Problem.h"
#include "Base/RoundTripRange.h"

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace valveladder {

/// The clicks by which the round trip is measured: short rising tones, which a correlation finds to the
/// sample in noise and in a room. Their distances differ, so that no regular sound passes for them, and are
/// longer than the longest round trip, so that none is taken for another.
struct RoundTripClicks {
    static constexpr std::array<double, 6> seconds{0.2, 1.35, 2.57, 3.66, 4.97, 6.15}; ///< begins of clicks
    static constexpr double clickSeconds = 0.02;
    static constexpr double longestMs = liveRoundTrip.mostMs; ///< a round trip beyond it is not found
    static constexpr float level = 0.25F;                     ///< peak, full scale = 1

    /// The series at `sample` samples from its begin; 0 outside the clicks. `rate` in Hz. [any] Without
    /// allocation or lock.
    [[nodiscard]] static float at(std::int64_t sample, double rate) noexcept;
    /// Samples from its begin until the last click can have come back.
    [[nodiscard]] static std::int64_t length(double rate) noexcept;
    /// Sample at which a click begins.
    [[nodiscard]] static std::int64_t begin(std::size_t click, double rate) noexcept;
};

/// Finds the series in what came in. [worker] Memory: the series' length of sound, at 48 to 96 kHz.
class RoundTripFinder {
public:
    /// `rate` in Hz; `seriesSample` is where the series began on the output, in the count of push().
    RoundTripFinder(double rate, std::int64_t seriesSample);

    /// The input from `startSample` on, in order; what is missing between counts as silence.
    void push(std::int64_t startSample, std::span<const float> sound);
    /// All that can have come back by sample `passed` has come: nothing more is to be pushed.
    [[nodiscard]] bool done(std::int64_t passed) const { return passed >= end; }

    /// The round trip, ms: the median of the clicks that agree within agreeMs. A Problem that says why when
    /// fewer than neededClicks do.
    [[nodiscard]] Result<double> result() const;

    static constexpr double agreeMs = 1.0;
    static constexpr std::size_t neededClicks = 4;

private:
    void take(float sample);
    /// When a click came back, ms after it went out; nothing when it was not heard.
    [[nodiscard]] std::optional<double> heardMs(std::size_t click) const;
    [[nodiscard]] std::vector<double> clickShape(std::int64_t clickSample) const;

    double rate;
    int averaged; ///< samples that make one kept value
    std::int64_t first;
    std::int64_t next;
    std::int64_t end;
    double sum = 0.0;
    int summed = 0;
    bool anySound = false;
    std::vector<float> kept;
};

} // namespace valveladder
