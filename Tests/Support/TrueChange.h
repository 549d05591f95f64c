#pragma once

#include "Valves/Combination.h"

#include <optional>

namespace valveladder::testing {

/// How the pitch moves through a change: straight in cents; as half a cosine; exponentially into the second
/// pitch; as a finger moves with least jerk (Flash and Hogan 1985: 10 u^3 - 15 u^4 + 6 u^5).
enum class Bend { straight, smooth, landing, leastJerk };
inline constexpr Bend bends[] = {Bend::straight, Bend::smooth, Bend::landing, Bend::leastJerk};
[[nodiscard]] const char* nameOf(Bend bend);

/// How far a change has gone, 0..1; `u`: 0 where a twentieth is gone through, 1 where a twentieth is left.
[[nodiscard]] double bendShare(Bend bend, double u);
/// The reverse, for shares from 0.001 to 0.999.
[[nodiscard]] double bendTime(Bend bend, double share);

/// Fingers apart: the change stops on another pitch.
struct TrueStop {
    double midi = 60.0;     ///< fractional
    double travelMs = 10.0; ///< of either step, from a twentieth to the last twentieth
    double apartMs = 40.0;  ///< from one step to the other
    Combination late;       ///< the fingers that came late
    /// How long the pitch between sounds: from a twentieth before it is reached to a twentieth after.
    [[nodiscard]] double lastsMs() const { return apartMs - travelMs; }
};

/// A change of pitch without a break, with its changeover by the definition of the README.
struct TrueChange {
    double fromMidi = 60.0;
    double toMidi = 61.0;
    double changeoverMs = 30.0; ///< without a stop; with one it follows from the stop
    Bend bend = Bend::straight;
    std::optional<TrueStop> stop;
};

/// The pitch over time through a change.
class BendPath {
public:
    explicit BendPath(const TrueChange& change);

    /// The changeover, a stop included.
    [[nodiscard]] double wholeMs() const { return whole; }
    /// `ms` from half-way between leaving the first pitch and reaching the second.
    [[nodiscard]] double midiAt(double ms) const;
    /// So long before half-way the first pitch is there unbent; so long after it the second.
    [[nodiscard]] double leadMs() const;
    [[nodiscard]] double tailMs() const;

private:
    /// One movement, in time of its own bend: 0 where a twentieth is gone through.
    struct Step {
        double from;
        double to;
        double travelMs;
        double leftAt;
    };
    [[nodiscard]] double share(const Step& step, double ms) const;

    Bend bend;
    double begin; ///< twentieth of the bend, in its own time
    double length;
    double whole = 0.0;
    double firstMidi;
    Step first{};
    std::optional<Step> second;
};

} // namespace valveladder::testing
