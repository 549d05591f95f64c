#pragma once

#include "Findings/Evidence.h"
#include "Findings/Suspect.h"
#include "Listening/Performance.h"

#include <span>
#include <vector>

namespace valveladder {

/// How long changes last in which something takes part, as measured and not yet explained: the median and
/// its interval, ms.
struct Pace {
    Suspect suspect; ///< a finger that presses or releases, or one change
    Estimate ms;
};

/// The newest values of a suspect that count: a median of so many is sharp enough, and older ones tell of an
/// earlier player.
inline constexpr std::size_t mostPaceValues = 600;

/// Paces of everything that was measured. Takes oldest first, of one player on one instrument.
[[nodiscard]] std::vector<Pace> pacesIn(std::span<const TakeEvidence> takes);

} // namespace valveladder
