#pragma once

namespace valveladder {

inline constexpr double msPerSecond = 1000.0;

} // namespace valveladder
