#pragma once

namespace valveladder::phrase {

/// A note may sound for so long before it has a pitch, seconds: longest of the real notes of the tuning part,
/// 0.13 s, moved down.
inline constexpr double slowSeconds = 0.2;
/// Full scale = 1; so that the level of silence has a number.
inline constexpr double silence = 1e-6;

} // namespace valveladder::phrase
