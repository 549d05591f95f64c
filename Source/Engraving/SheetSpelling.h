#pragma once

#include "Score/Score.h"

#include <map>
#include <optional>
#include <vector>

namespace valveladder {

/// A written pitch as it stands on a staff.
struct Spelled {
    int step = 0;  ///< 0 = C ... 6 = B
    int alter = 0; ///< semitones: -1 flat, 0 natural, 1 sharp
    int octave = 4;

    /// Staff places, lines and spaces alike, above C0.
    [[nodiscard]] int place() const { return octave * 7 + step; }
    bool operator==(const Spelled&) const = default;
};

/// Chromatic notes are written sharp on the way up and flat on the way down.
[[nodiscard]] Spelled spell(MidiNote written, bool rising);

/// The line's direction at a note: towards the next one of its segment, or from the one before.
[[nodiscard]] bool rising(const Score& score, int note);

/// A note of the score as it is written on the staff.
[[nodiscard]] Spelled spelledNote(const Score& score, int note);

/// Which accidentals a bar has had so far: one is printed where the pitch differs from what holds on its
/// place.
class BarAccidentals {
public:
    /// `fifths`: the key in force, sharps or (negative) flats.
    void newBar(int fifths = 0) {
        inForce.clear();
        key = fifths;
    }
    /// The alteration to print for this note, or nothing; and remembers it. `tiedFrom`: never printed.
    [[nodiscard]] std::optional<int> print(const Spelled& spelled, bool tiedFrom);

private:
    std::map<int, int> inForce; ///< staff place to alteration
    int key = 0;
};

/// What a key of `fifths` does to a step (0 = C ... 6 = B): -1, 0 or 1; beyond seven as seven.
[[nodiscard]] int alterInKey(int step, int fifths);

/// The steps that a key alters, in the order of its signature.
[[nodiscard]] std::vector<int> keySteps(int fifths);

} // namespace valveladder
