#pragma once

namespace valveladder {

inline constexpr double msPerSecond = 1000.0;
inline constexpr double centsPerSemitone = 100.0;

} // namespace valveladder
