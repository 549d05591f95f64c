#pragma once

#include "Listening/HeardNote.h"
#include "Listening/PhraseSound.h"

#include <cstddef>
#include <limits>
#include <numeric>
#include <optional>
#include <vector>

namespace valveladder {

/// A stretch of a phrase on one pitch: a note, more than one struck on the same pitch, or a part of one.
/// Places and lengths in samples of the phrase's sound.
struct Tone {
    double from = 0.0; ///< rough edges from the contour
    double to = 0.0;
    double period = 0.0;
    double level = 0.0;       ///< greatest within 150 ms of its beginning, full scale = 1
    double periodicity = 0.0; ///< how periodic, 0..1
    double drift = 0.0;       ///< semitones a sample, by the contour, in its middle half
    double midi = 0.0;        ///< by the contour, vibrato taken off
    double swing = 0.0;       ///< of its vibrato, semitones either way
    double reached = 0.0;     ///< where the contour, vibrato taken off, passes from the tone before to it
    std::size_t number = 0;   ///< in the phrase

    double onset = 0.0; ///< refined
    double noise = 0.0; ///< standard deviation of the onset
    double offset = 0.0;
    HeardNote::Start start = HeardNote::Start::attack;
    std::optional<double> changeover;
    bool blurred = false;    ///< begins under the sound of the note before
    double settled = 0.0;    ///< where it is on its pitch, if it spoke off it; else `from`
    double spokeSharp = 0.0; ///< by how many semitones, the farthest
    /// Within these it is not struck again: outside a change that stops half-way.
    double steadyFrom = 0.0;
    double steadyTo = std::numeric_limits<double>::infinity();

    [[nodiscard]] double length() const { return to - from; }
    [[nodiscard]] double middle() const { return std::midpoint(from, to); }
};

/// Half-way between the rough edges of two tones.
[[nodiscard]] double borderBetween(const Tone& before, const Tone& after);
/// From the rough end of the one to the rough beginning of the other.
[[nodiscard]] double gapBetween(const Tone& before, const Tone& after);
/// Whether no silence of the contour lies between two tones.
[[nodiscard]] bool touch(const PhraseSound& sound, const Tone& before, const Tone& after);
/// How much higher `tone` is than `other`, semitones.
[[nodiscard]] double semitonesAbove(const PhraseSound& sound, const Tone& tone, const Tone& other);
/// Over which a tone's levels are taken.
[[nodiscard]] double levelWindow(const PhraseSound& sound, const Tone& tone);
/// The median period over [from, to); `guess`, right within 4 %, where nothing there repeats.
[[nodiscard]] double settledPeriod(const PhraseSound& sound, double from, double to, double guess);

/// The tones of a phrase in order, their edges rough: the contour without its vibrato, cut by pitch. Onset,
/// start, offset and what hangs on them are not found yet.
[[nodiscard]] std::vector<Tone> roughTones(const PhraseSound& sound, const Phrase& phrase);

} // namespace valveladder
