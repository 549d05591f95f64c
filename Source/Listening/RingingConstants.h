#pragma once

namespace valveladder::ringing {

/// Harmonics looked at: those up to so many Hz, no fewer and no more than this.
inline constexpr double highestHz = 2500.0;
inline constexpr int leastHarmonics = 3;
inline constexpr int mostHarmonics = 20;
/// Samples kept for a cycle of the highest of them, and lobes of the low pass before.
inline constexpr double samplesPerCycle = 2.6;
inline constexpr double filterLobes = 8.0;
/// Share of the sound at either end over which it is faded, so that harmonics do not leak into each other.
inline constexpr double taperShare = 0.25;
/// A room is taken for echoes of these delays, seconds: each harmonic has an echo of its own strength and
/// phase.
inline constexpr double echoSeconds[] = {0.005, 0.013, 0.028, 0.055, 0.1};
/// What strengths cost beside what is left unexplained: so that echoes and a change of loudness are found
/// where the sound shows them, and not wherever they would do. Shares of a column's own power. Below `lowHz`
/// a change holds too few cycles to tell that many echoes: there they cost more, by the square. Set, like all
/// here, on glides in rooms of the parts tuning and seen.
inline constexpr float echoCost = 0.04F;
inline constexpr float loudnessCost = 0.3F;
inline constexpr float toneCost = 3e-4F;
inline constexpr double lowHz = 100.0;
/// Search, from what a fit without echoes gave: first steps of the middle and of the length in seconds, and
/// of either pitch as a share of it; rounds; and the finest step in seconds.
inline constexpr double centreStep = 0.008;
inline constexpr double lengthStep = 0.012;
inline constexpr double pitchStep = 0.002;
inline constexpr int rounds = 14;
/// First by so few harmonics, down to this share of the first steps; from twice that on by all.
inline constexpr int roughHarmonics = 6;
inline constexpr double roughStep = 0.2;
inline constexpr double finestSeconds = 0.0005;
/// So fitted, a length comes long: by 1.1, 3.6 and 2.9 ms in the median on the parts tuning, seen and
/// tallied.
inline constexpr double longSeconds = 0.002;

} // namespace valveladder::ringing
