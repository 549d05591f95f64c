#include "View/TapTempo.h"

#include "Base/RobustStatistics.h"
#include "Base/Units.h"
#include "Tempo/TempoMap.h"

#include <algorithm>
#include <utility>

namespace valveladder {

std::optional<double> TapTempo::tap(double seconds) {
    if (!taps.empty() && (seconds - taps.back() > longestPauseSeconds || seconds <= taps.back()))
        taps.clear();
    taps.push_back(seconds);
    if (taps.size() > mostIntervals + 1)
        taps.erase(taps.begin());
    if (taps.size() < leastTaps)
        return std::nullopt;
    std::vector<double> intervals;
    for (std::size_t i = 1; i < taps.size(); ++i)
        intervals.push_back(taps[i] - taps[i - 1]);
    return std::clamp(secondsPerMinute / median(std::move(intervals)), minBpm, maxBpm);
}

} // namespace valveladder
