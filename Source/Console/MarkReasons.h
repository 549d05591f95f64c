#pragma once

#include "Console/LogOptions.h"
#include "Music/Marking.h"
#include "Valves/Instrument.h"
#include "Words/PartWords.h"

#include <string>

namespace valveladder::console {

/// Of the part's own tempo, at which it is marked.
inline constexpr double leastTempoPercent = 10.0;
inline constexpr double mostTempoPercent = 400.0;

/// What a part's costs go by in sentences and, where nothing of the player is logged, what the log holds
/// instead. `player` "" = none is known. A Problem where the log cannot be read.
[[nodiscard]] Result<std::string> costsFrom(const LogOptions& log, const std::string& player,
                                            const Instrument& instrument, const CostBasis& basis);

/// Why a part without spots has none, and what would mark some. `percent`: of the part's own tempo, at which
/// it was marked.
[[nodiscard]] std::string whyNothingMarked(const Part& line, const Marking& marking,
                                           const Instrument& instrument, double percent);

} // namespace valveladder::console
