#pragma once

namespace valveladder::takeover {

/// Places are tried at this share of a period from one another.
inline constexpr double stepPeriods = 0.125;
/// A fresh note may speak off its pitch at first: what has left the old pitch by more than half, by this
/// share of the way, counts too.
inline constexpr double shareOfWay = 0.6;
/// What a correlation on the way must be above the settled one: an old note that wavers is no new one.
inline constexpr double wayMargin = 0.1;
/// A dying tone is broken into where its upper harmonics repeat less well than this share of their best; the
/// new one has settled no later than this after, seconds: in a room, where the old one rings on under it, so
/// late. On the tuning takes in rooms 0.08 to 0.12 are alike; 0.03, which is enough for dry ones, leaves the
/// onsets of slurs late by 24 ms in the median where the old tone seems alone until the new one has settled.
inline constexpr float breakEmphasis = 0.85F;
inline constexpr double unbrokenShare = 0.92;
inline constexpr double settlingSeconds = 0.1;
/// So found, an onset comes late, on the tuning takes by 4.2 to 4.8 ms in the median; a little less is taken
/// off, since instruments differ.
inline constexpr double lateSeconds = 0.003;
/// Where one articulation sounds under the next, the onset is known to this share of a period. Set on the
/// tuning takes.
inline constexpr double noisePeriods = 0.5;

} // namespace valveladder::takeover
