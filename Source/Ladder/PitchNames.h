#pragma once

#include "Ladder/Drill.h"
#include "Valves/Spelling.h"

#include <optional>
#include <string>
#include <vector>

namespace valveladder {

/// How the player wants pitches named.
struct PitchNames {
    Spelling spelling = Spelling::sharps;
    bool sounding = false; ///< the sounding pitch instead of the written one
    int transposition = 0; ///< from written to sounding, semitones

    bool operator==(const PitchNames&) const = default;
};

/// Names as the player chose them, or where they chose none as notes of that instrument are spelled.
[[nodiscard]] PitchNames pitchNames(std::optional<Spelling> chosen, bool sounding,
                                    const Instrument& instrument);
/// The same for a drill's notes: where none were chosen, written names are spelled as writtenSpelling() says.
[[nodiscard]] PitchNames pitchNames(std::optional<Spelling> chosen, bool sounding, const Drill& drill,
                                    const Instrument& instrument);

/// A text with written pitches in it, as a rung's label, "F#3-C4", or a sentence, with its pitches named as
/// wanted. What is no pitch in it stays.
[[nodiscard]] std::string withPitchNames(const std::string& text, const PitchNames& names);
[[nodiscard]] std::vector<std::string> withPitchNames(std::vector<std::string> texts,
                                                      const PitchNames& names);

} // namespace valveladder
