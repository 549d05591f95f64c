#include "Tempo/TempoMap.h"

#include "Base/Units.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

namespace valveladder {

namespace {

double clampedBpm(double bpm) {
    return std::clamp(bpm, minBpm, maxBpm);
}

bool usable(const TempoMap::Point& point) {
    return !std::isnan(point.bpm) && std::abs(point.quarter) <= farthestQuarter;
}

} // namespace

TempoMap::TempoMap(double bpm) : TempoMap(std::vector<Point>{{0.0, bpm}}) {}

TempoMap::TempoMap(std::vector<Point> points) {
    std::erase_if(points, [](const Point& point) { return !usable(point); });
    std::stable_sort(points.begin(), points.end(),
                     [](const Point& a, const Point& b) { return a.quarter < b.quarter; });
    for (const Point& point : points) {
        const Point clamped{point.quarter, clampedBpm(point.bpm)};
        if (!tempos.empty() && tempos.back().quarter == point.quarter)
            tempos.back() = clamped;
        else
            tempos.push_back(clamped);
    }
    if (tempos.empty())
        tempos.push_back({0.0, defaultBpm});
    layStarts();
}

void TempoMap::layStarts() {
    starts.resize(tempos.size());
    starts[0] = 0.0;
    for (std::size_t i = 1; i < tempos.size(); ++i)
        starts[i] = starts[i - 1] +
                    (tempos[i].quarter - tempos[i - 1].quarter) * secondsPerMinute / tempos[i - 1].bpm;
    const double zero = secondsAt(0.0);
    for (double& start : starts)
        start -= zero;
}

double TempoMap::bpmAt(double quarter) const {
    const auto after = std::partition_point(
        tempos.begin(), tempos.end(), [quarter](const Point& point) { return point.quarter <= quarter; });
    return after == tempos.begin() ? tempos.front().bpm : std::prev(after)->bpm;
}

double TempoMap::secondsAt(double quarter) const {
    const auto after = std::partition_point(
        tempos.begin(), tempos.end(), [quarter](const Point& point) { return point.quarter <= quarter; });
    const auto i = static_cast<std::size_t>(std::max<std::ptrdiff_t>(after - tempos.begin() - 1, 0));
    return starts[i] + (quarter - tempos[i].quarter) * secondsPerMinute / tempos[i].bpm;
}

double TempoMap::quarterAt(double seconds) const {
    const auto after = std::partition_point(starts.begin(), starts.end(),
                                            [seconds](double start) { return start <= seconds; });
    const auto i = static_cast<std::size_t>(std::max<std::ptrdiff_t>(after - starts.begin() - 1, 0));
    return tempos[i].quarter + (seconds - starts[i]) * tempos[i].bpm / secondsPerMinute;
}

} // namespace valveladder
