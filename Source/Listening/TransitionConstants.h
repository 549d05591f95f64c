#pragma once

#include <cstddef>

namespace valveladder::transition {

/// Levels of a dip are shares of the softer tone's. Between tongued notes the level falls below this.
inline constexpr double tonguedDip = 0.4;
/// Through a valve's travel the tone stays above this.
inline constexpr double glideDip = 0.2;
/// Unless the phrase bends anyway, a change that falls below this is an articulation: of a few cycles of a
/// low tone nearly any change fits a glide. Set on the tuning takes.
inline constexpr double strangeDip = 0.55;
/// Nor does a phrase plainly bend whose level falls below this in the median change. On the tuning takes
/// bends stay above 0.55; of tongued notes of a synthesis in a room those that fit a glide fall to 0.24 to
/// 0.37.
inline constexpr double bendingDip = 0.45;
/// Two tones nearer than this, semitones, are one pitch: half of the least step between two notes.
inline constexpr double onePitchSemitones = 0.5;
/// So many of a phrase's changes tell whether it bends.
inline constexpr std::size_t ringingLookedAt = 7;
/// Fewer changes do not tell what a phrase is like.
inline constexpr std::size_t minTransitions = 3;
/// Of tone::edgeSearchSeconds, how far a dip is sought after the second tone's edge.
inline constexpr double searchedAfter = 0.5;
/// Full scale = 1; so that a share of it is a number.
inline constexpr double leastLevel = 1e-12;

} // namespace valveladder::transition
