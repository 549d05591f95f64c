#pragma once

namespace valveladder::attack {

/// A note's level is the greatest within this time of its start, seconds: the definition of the tests' truth.
inline constexpr double levelSeconds = 0.15;
/// A struck note begins where its level first reaches this share (-10 dB): attacks are steepest about here,
/// so that the figure depends least on how they go on.
inline constexpr double onsetLevel = 0.316;
/// Share of its level at which a note out of silence is heard at all (-30 dB), unless what is left of the one
/// before is louder by this factor; from this share on the one before is no silence. Set on the tuning part
/// of the real notes and on the tuning takes.
inline constexpr double heardShare = 0.03;
inline constexpr double overLeft = 1.6;
inline constexpr double silenceShare = 0.12;
/// Longest that it may fall below that again before it has a pitch, seconds: what is farther off is a click
/// or an echo of the one before. Set on the tuning part of the real notes.
inline constexpr double mostDipSeconds = 0.02;
/// A note dies away further between the quietest place and the next one's onset: by half its energy. Set on
/// the tuning takes.
inline constexpr double leftAtOnset = 0.7;
/// Shortest distance between two articulations (halves of 60 ms are to be told), seconds. Sound that is so
/// much earlier than an articulation, and at least so loud beside it, is an articulation as well. Set on the
/// tuning takes.
inline constexpr double leastArticulationSeconds = 0.05;
inline constexpr double firstArticulationShare = 0.4;
/// Loud is this share of the level; levels are probed at these shares of their window.
inline constexpr double loudShare = 0.9;
inline constexpr double levelStep = 0.25;
inline constexpr double fineStep = 0.125;

} // namespace valveladder::attack
