#pragma once

#include "Console/LogOptions.h"
#include "Music/Marking.h"
#include "Music/OwnChanges.h"
#include "Valves/Instrument.h"

#include <string>

namespace valveladder::console {

/// What a part's costs go by, the player's own changeovers or fingers moved, and why where it is not the
/// first: a sentence or more. `player` "" = none is known. A Problem where the log cannot be read.
[[nodiscard]] Result<std::string> costsFrom(const LogOptions& log, const std::string& player,
                                            const Instrument& instrument, const OwnChanges& own,
                                            const Marking& marking);

/// Why a part without spots has none, and what would mark some. `percent`: of the part's own tempo, at which
/// it was marked.
[[nodiscard]] std::string whyNothingMarked(const Part& line, const Marking& marking,
                                           const Instrument& instrument, double percent);

} // namespace valveladder::console
