#pragma once

#include <span>
#include <vector>

namespace valveladder {

inline constexpr double minBpm = 10.0;
inline constexpr double maxBpm = 400.0;

/// Tempo over musical time, piecewise constant. Positions are quarters, tempos quarters a minute.
class TempoMap {
public:
    struct Point {
        double quarter = 0.0;
        double bpm = 120.0;
        bool operator==(const Point&) const = default;
    };

    explicit TempoMap(double bpm = 120.0);
    /// Points are sorted; tempos are clamped to minBpm..maxBpm; the first holds from minus infinity.
    explicit TempoMap(std::vector<Point> points);

    [[nodiscard]] double bpmAt(double quarter) const;
    /// Seconds from quarter 0; negative before it.
    [[nodiscard]] double secondsAt(double quarter) const;
    [[nodiscard]] double quarterAt(double seconds) const;
    [[nodiscard]] std::span<const Point> points() const { return tempos; }

private:
    std::vector<Point> tempos;
};

} // namespace valveladder
