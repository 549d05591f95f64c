#pragma once

namespace valveladder::joined {

/// Semitones a second from which on a pitch is on its way and not settled: a tone 20 ms long would leave the
/// 35 cents about its median.
inline constexpr double passingSpeed = 6.0;

} // namespace valveladder::joined
