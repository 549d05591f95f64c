#include "Listening/Scoop.h"

#include "Listening/ToneConstants.h"
#include "Listening/TransitionConstants.h"

namespace valveladder {

namespace {

/// Longest that a note of the tuning part of the real notes speaks off its pitch: 0.13 s, moved down.
constexpr double longestSeconds = 0.14;
/// A piece farther off may be another partial: then the note cracked. Set on the cracked takes and on the
/// tuning part of the real notes.
constexpr double mostSemitones = 2.5;
/// The tone must be settled for so long beside the piece.
constexpr double settledShare = 0.5;
/// A piece so much louder is a note.
constexpr double mostOverNext = 1.6;
/// A tone struck anew comes out of a silence: below this share of the piece. Notes that swell while they
/// speak stay above half.
constexpr double struckAnewShare = 0.3;

/// Of the real notes' tuning part, one horn dips by 4 dB 40 to 100 ms after its onset, and swells by 8.
constexpr double speakingSeconds = 0.12;
constexpr double speakingDipDb = 6.0;
constexpr double leastSwell = 1.8;
/// Sooner after the onset, and less deep, a smaller swell is enough: the halves of a note that is struck
/// twice are alike, and a low note in a room swells by a quarter. Set on the parts that were looked at.
constexpr double soonSeconds = 0.07;
constexpr double shallowDb = 4.0;
constexpr double leastSwellSoon = 1.25;

} // namespace

bool Scoop::isOneNote() const {
    return seconds < longestSeconds && semitones < mostSemitones && gapSeconds < tone::touchSeconds &&
           settledSeconds > settledShare * seconds && levelOverNext < mostOverNext &&
           silenceBefore < transition::tonguedDip && dip > struckAnewShare;
}

bool speaksStill(double seconds, double dipDb, double swell) {
    const bool swells = seconds < speakingSeconds && dipDb < speakingDipDb && swell > leastSwell;
    const bool soon = seconds < soonSeconds && dipDb < shallowDb && swell > leastSwellSoon;
    return swells || soon;
}

} // namespace valveladder
