#pragma once

namespace valveladder::notes {

/// What is left out of a note's pitch and level (tone::unsettledSeconds, and half of its changeover) takes no
/// more than these shares of it at its beginning and end.
inline constexpr double mostUnsettledAtOnset = 0.35;
inline constexpr double mostUnsettledAtEnd = 0.2;
/// A short piece of a tone is on a neighbouring pitch, so many semitones away, if it repeats better there by
/// this much; seen only if it goes on for this share of a period after the first.
inline constexpr double neighbours[] = {-2.0, -1.0, 1.0, 2.0};
inline constexpr double pieceMargin = 0.1;
inline constexpr double leastPieceShare = 0.5;
/// Of the period, for a semitone: ln 2 / 12.
inline constexpr double periodSharePerSemitone = 0.0578;

} // namespace valveladder::notes
