#pragma once

#include "Valves/Spelling.h"

#include <map>
#include <optional>
#include <vector>

namespace valveladder {

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
