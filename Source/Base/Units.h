#pragma once

namespace valveladder {

inline constexpr double msPerSecond = 1000.0;
inline constexpr double secondsPerMinute = 60.0;
inline constexpr double msPerMinute = secondsPerMinute * msPerSecond;
inline constexpr double secondsPerDay = 86400.0;
inline constexpr double msPerDay = secondsPerDay * msPerSecond;
inline constexpr double centsPerSemitone = 100.0;

} // namespace valveladder
