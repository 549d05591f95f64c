#pragma once

#include "Valves/Spelling.h"

#include <optional>
#include <string>

namespace valveladder {

/// How the player wants pitches named.
struct PitchNames {
    Spelling spelling = Spelling::sharps;
    bool sounding = false; ///< the sounding pitch instead of the written one

    bool operator==(const PitchNames&) const = default;
};

/// Names as the player chose them, or where they chose none as notes of that instrument are spelled.
[[nodiscard]] PitchNames pitchNames(std::optional<Spelling> chosen, bool sounding,
                                    const Instrument& instrument);

/// A rung's label, e.g. "F#3-C4", with its pitches named as wanted; `transposition` is from written to
/// sounding. What is no pitch in it stays.
[[nodiscard]] std::string rungName(const std::string& label, const PitchNames& names, int transposition);

} // namespace valveladder
