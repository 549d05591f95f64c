#include "View/TapTempo.h"

#include "Tempo/TempoMap.h"

#include <algorithm>

namespace valveladder {

std::optional<double> TapTempo::tap(double seconds) {
    if (!taps.empty() && (seconds - taps.back() > longestPauseSeconds || seconds <= taps.back()))
        taps.clear();
    taps.push_back(seconds);
    if (taps.size() > mostIntervals + 1)
        taps.erase(taps.begin());
    if (taps.size() < 3)
        return std::nullopt;
    std::vector<double> intervals;
    for (std::size_t i = 1; i < taps.size(); ++i)
        intervals.push_back(taps[i] - taps[i - 1]);
    std::sort(intervals.begin(), intervals.end());
    const std::size_t middle = intervals.size() / 2;
    const double median =
        intervals.size() % 2 == 1 ? intervals[middle] : (intervals[middle - 1] + intervals[middle]) / 2.0;
    return std::clamp(60.0 / median, minBpm, maxBpm);
}

} // namespace valveladder
