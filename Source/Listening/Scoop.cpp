#include "Listening/Scoop.h"

namespace valveladder {

namespace {

/// Longest that a note of the tuning part of the real notes speaks off its pitch: 0.13 s, moved down.
constexpr double longestSeconds = 0.16;
/// A low note may repeat with a third as well as with its own period before it settles.
constexpr double mostSemitones = 5.0;
constexpr double touchSeconds = 0.045;
/// The tone must be settled for so long beside the piece.
constexpr double settledShare = 0.5;
/// A piece so much louder is a note.
constexpr double mostOverNext = 1.6;
/// The tongue brings the level below this share.
constexpr double tonguedShare = 0.4;

/// Of the real notes' tuning part, one horn dips by 4 dB 40 to 100 ms after its onset, and swells by 8.
constexpr double speakingSeconds = 0.12;
constexpr double speakingDipDb = 6.0;
constexpr double leastSwell = 1.8;

} // namespace

bool Scoop::isOneNote() const {
    return seconds < longestSeconds && semitones < mostSemitones && gapSeconds < touchSeconds &&
           settledSeconds > settledShare * seconds && levelOverNext < mostOverNext &&
           silenceBefore < tonguedShare;
}

bool speaksStill(double seconds, double dipDb, double swell) {
    return seconds < speakingSeconds && dipDb < speakingDipDb && swell > leastSwell;
}

} // namespace valveladder
