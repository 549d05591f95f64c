#pragma once

namespace valveladder::tone {

/// Levels are taken over one period, but no less than this, seconds.
inline constexpr double minLevelWindowSeconds = 0.005;
/// Pitch: windows of so many seconds, no fewer periods than this, the next one so much of a window later.
/// Their median counts.
inline constexpr double pitchWindowSeconds = 0.06;
inline constexpr double pitchWindowPeriods = 7.0;
inline constexpr double pitchWindowStep = 0.5;
/// Of such a window, the longest lag over which the sound is compared with itself.
inline constexpr double longestLagShare = 0.6;
/// Left out at a tone's edges, where it is not settled yet, seconds; and of a short one no more than this
/// share at either edge.
inline constexpr double unsettledSeconds = 0.02;
inline constexpr double mostUnsettledShare = 0.25;
/// Tones whose contours touch within this are one breath of sound, to be parted by fit, seconds.
inline constexpr double touchSeconds = 0.045;
/// Where one ends and the next begins is sought so far from the contour's edges, seconds: they may come late,
/// a dying note is periodic for longer than it is loud.
inline constexpr double edgeSearchSeconds = 0.08;
/// A long glide lingers at the pitches on its way, no longer than this, seconds.
inline constexpr double passedSeconds = 0.11;
/// A vibrato of fewer semitones leaves the pitch to the sound itself.
inline constexpr double leastSwing = 0.1;

} // namespace valveladder::tone
