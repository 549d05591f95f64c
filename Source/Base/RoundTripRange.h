#pragma once

#include <string>

namespace valveladder {

/// By how much sound may come late, milliseconds. Never more than a second: what a sound device needs is far
/// less, and more is a wrong place in the recording rather than a delay.
struct RoundTripRange {
    double leastMs = 0.0;
    double mostMs = 1000.0;

    [[nodiscard]] constexpr bool holds(double ms) const { return ms >= leastMs && ms <= mostMs; }
    /// "the round trip is outside 0 to 1000 ms"
    [[nodiscard]] std::string refusal() const;
};

/// While the player plays, nothing comes back before it went out.
inline constexpr RoundTripRange liveRoundTrip{};
/// Below 0: what recorded the sound has moved it further forward than it came late.
inline constexpr RoundTripRange recordedRoundTrip{-liveRoundTrip.mostMs, liveRoundTrip.mostMs};

} // namespace valveladder
