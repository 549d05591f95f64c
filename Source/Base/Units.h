#pragma once

namespace valveladder {

inline constexpr double msPerSecond = 1000.0;
inline constexpr double secondsPerMinute = 60.0;
inline constexpr double msPerMinute = secondsPerMinute * msPerSecond;
inline constexpr double secondsPerDay = 86400.0;
inline constexpr double msPerDay = secondsPerDay * msPerSecond;
inline constexpr double centsPerSemitone = 100.0;
inline constexpr double centsPerOctave = 1200.0;
inline constexpr double dbPerDecade = 20.0; ///< of amplitude

} // namespace valveladder
