#pragma once

#include <optional>
#include <vector>

namespace valveladder {

/// A tempo tapped on a key or button: from the median of the last intervals, so that one slip does not count.
class TapTempo {
public:
    static constexpr double longestPauseSeconds = 2.5; ///< a longer one begins anew
    static constexpr std::size_t leastTaps = 3;
    static constexpr std::size_t mostIntervals = 8;

    /// `seconds` of any steady clock. The tempo in quarters a minute from the tap on that makes leastTaps,
    /// within minBpm..maxBpm of Tempo/TempoMap.h.
    std::optional<double> tap(double seconds);

private:
    std::vector<double> taps;
};

} // namespace valveladder
