#pragma once

#include <span>
#include <vector>

namespace valveladder {

inline constexpr double minBpm = 10.0;
inline constexpr double maxBpm = 400.0;

/// Where a file names no tempo (Standard MIDI Files 1.0, p. 5: "the tempo 120 beats per minute"). MusicXML
/// has no such rule; there it is common practice, no source.
inline constexpr double defaultBpm = 120.0;

/// Points further than this from quarter 0 are not music (about five years at maxBpm).
inline constexpr double farthestQuarter = 1e9;

/// Tempo over musical time, piecewise constant. Positions are quarters, tempos quarters a minute.
///
/// seconds(q) = seconds(p) + (q - p) * 60 / bpm, p being the last point at or before q. Exact up to rounding
/// of doubles, both ways; quarterAt(secondsAt(q)) == q within 1e-9 * max(1, |q|).
class TempoMap {
public:
    struct Point {
        double quarter = 0.0;
        double bpm = defaultBpm;
        bool operator==(const Point&) const = default;
    };

    /// One tempo throughout. Clamped to minBpm..maxBpm; NaN gives defaultBpm.
    explicit TempoMap(double bpm = defaultBpm);
    /// Points are sorted by quarter; of several at one quarter the last given holds. Tempos are clamped to
    /// minBpm..maxBpm, infinite ones too. A point whose tempo is NaN, or whose quarter is not finite or lies
    /// beyond farthestQuarter, is dropped. The first holds from minus infinity; none left means defaultBpm
    /// throughout.
    explicit TempoMap(std::vector<Point> points);

    /// At a point's own quarter its tempo holds already. NaN asks for the first tempo.
    [[nodiscard]] double bpmAt(double quarter) const;
    /// Seconds from quarter 0; negative before it. NaN gives NaN.
    [[nodiscard]] double secondsAt(double quarter) const;
    /// The inverse of secondsAt. NaN gives NaN.
    [[nodiscard]] double quarterAt(double seconds) const;
    /// Never empty; strictly rising in quarter.
    [[nodiscard]] std::span<const Point> points() const { return tempos; }

private:
    void layStarts();

    std::vector<Point> tempos;
    std::vector<double> starts; ///< seconds of each point, from quarter 0
};

} // namespace valveladder
