#pragma once

#include "Base/Units.h"

#include <cmath>
#include <cstdint>

namespace valveladder {

/// Host tempos that are followed, quarters a minute. Anything else counts as no tempo at all: a clamped tempo
/// would contradict the host's own position.
inline constexpr double minHostBpm = 1.0;
inline constexpr double maxHostBpm = 1000.0;

/// Positions further out are taken for rubbish; 10^7 quarters are 58 days at 120 bpm.
inline constexpr double maxHostQuarters = 1.0e7;

inline constexpr double minHostSampleRate = 1000.0;
inline constexpr double maxHostSampleRate = 3.0e6;

/// Positions closer than this are one position: the coarsest grid on which a host may round what it reports
/// (480 ticks a quarter, common practice, no source); about a millisecond at 120 bpm.
inline constexpr double positionSlackQuarters = 1.0 / 480.0;

// Each is false for NaN and infinities.
[[nodiscard]] inline bool usableBpm(double bpm) {
    return bpm >= minHostBpm && bpm <= maxHostBpm;
}
[[nodiscard]] inline bool usablePpq(double ppq) {
    return std::abs(ppq) <= maxHostQuarters;
}
[[nodiscard]] inline bool usableSampleRate(double rate) {
    return rate >= minHostSampleRate && rate <= maxHostSampleRate;
}

[[nodiscard]] inline double samplesPerQuarter(double bpm, double sampleRate) {
    return secondsPerMinute / bpm * sampleRate;
}

/// Nearest sample. Halves go up on both sides of zero, and a millionth of a sample counts as nothing, so that
/// an event gets the same sample from whichever block it is computed.
[[nodiscard]] inline std::int64_t nearestSample(double samples) {
    constexpr double tieSlack = 1.0e-6;
    return static_cast<std::int64_t>(std::floor(samples + 0.5 + tieSlack));
}

} // namespace valveladder
