#pragma once

#include <cmath>

namespace valveladder {

inline constexpr double msPerSecond = 1000.0;
inline constexpr double secondsPerMinute = 60.0;
inline constexpr double msPerMinute = secondsPerMinute * msPerSecond;
inline constexpr double secondsPerDay = 86400.0;
inline constexpr double msPerDay = secondsPerDay * msPerSecond;
inline constexpr double centsPerSemitone = 100.0;
inline constexpr double centsPerOctave = 1200.0;
inline constexpr double dbPerDecade = 20.0; ///< of amplitude

/// Level, in dB, of an amplitude against full scale = 1, or of the ratio of two (ISO 80000-3:2006, level of a
/// field quantity). Minus infinity of 0, NaN of less.
[[nodiscard]] inline double decibels(double amplitude) {
    return dbPerDecade * std::log10(amplitude);
}

/// The reverse.
[[nodiscard]] inline double amplitudeOf(double db) {
    return std::pow(10.0, db / dbPerDecade);
}

} // namespace valveladder
