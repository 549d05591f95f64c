#pragma once

#include "Score/Score.h"

#include <optional>
#include <string>

namespace valveladder {

struct SheetOptions {
    std::string title;               ///< empty = the drill's name
    bool fingerings = true;          ///< the combination that the drill asks for, over every note
    bool alternates = true;          ///< with it the next one in tune, marked alternate
    std::optional<Spelling> names{}; ///< the player's choice; unset = writtenSpelling()
};

/// The fingering that a sheet gives as alternate: the next one of the note in order of choice that is no more
/// than 35 cents out of tune; one further out would only tempt.
[[nodiscard]] std::optional<Combination> printedAlternate(const Instrument& instrument,
                                                          const ScoreNote& note);

} // namespace valveladder
