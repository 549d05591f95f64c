#pragma once

#include "Base/Units.h"

#include <optional>
#include <string>

namespace valveladder {

/// Where a take lies in the file of its kept sound. It stands in that file, in words for whoever opens it
/// elsewhere, since the log holds musical positions alone.
struct KeptSoundPlace {
    double takeSeconds = 0.0;  ///< of the take's begin edge, from the file's first sample
    double takeQuarters = 0.0; ///< of that edge, from the score's tick 0
    double bpm = 0.0;          ///< there, quarters a minute

    /// Where tick 0 lies, seconds in the file; may be negative.
    [[nodiscard]] double tick0Seconds() const { return takeSeconds - takeQuarters * secondsPerMinute / bpm; }
};

[[nodiscard]] std::string toWords(const KeptSoundPlace& place);
/// Reads them back; nothing where the words are others, or no usable place.
[[nodiscard]] std::optional<KeptSoundPlace> keptSoundPlaceFrom(const std::string& words);

} // namespace valveladder
