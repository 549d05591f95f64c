#pragma once

#include "Listening/PitchContour.h"

namespace valveladder::vibrato {

/// Sound looked at together, and how often: frames. A second holds four swings of the slowest vibrato; on the
/// tuning takes 0.7 to 1.2 s do about the same.
inline constexpr int windowFrames = static_cast<int>(0.9 / PitchContour::frameSeconds);
inline constexpr int hopFrames = static_cast<int>(0.3 / PitchContour::frameSeconds);
/// Every so many frames are enough: ten points a swing of the fastest vibrato.
inline constexpr int stride = 3;
/// Fewer points with pitch than this tell nothing: 150 ms.
inline constexpr int leastPoints = 10;
/// Swings tried: hertz and semitones either way. Players of brass swing 4 to 7 times a second (common
/// practice, no source); a little is left at both ends.
inline constexpr double lowestHz = 3.5;
inline constexpr double highestHz = 8.0;
inline constexpr double hzStep = 0.5;
inline constexpr double leastSemitones = 0.15;
inline constexpr double mostSemitones = 0.75;
inline constexpr double semitoneStep = 0.1;
inline constexpr int phases = 12;
/// What stands still so far (0..1, mean length of the pitches' vectors modulo a semitone) needs no look, and
/// a swing counts only from a gain and up to a height on. Set on the tuning takes with and without vibrato.
inline constexpr double still = 0.8;
inline constexpr double leastGain = 0.2;
inline constexpr double leastHeight = 0.7;
inline constexpr double leastGainGoingOn = 0.1;
/// Less than so many swings may be a note that speaks off its pitch.
inline constexpr double leastTurns = 1.4;
/// Halvings of the steps about the best swing.
inline constexpr int refinements = 3;

} // namespace valveladder::vibrato
