#pragma once

#include "Console/DrillOptions.h"
#include "Console/LogOptions.h"
#include "Console/TakeText.h"
#include "Log/TakeRecord.h"

#include <optional>
#include <string>

namespace valveladder::console {

struct AssessOptions {
    std::string file;
    DrillOptions drill;
    LogOptions log;
    std::optional<double> bpm; ///< unset = the file's own tempo
    double startQuarter = 0.0;
    int channel = 0; ///< 0 = any but 10
    std::optional<double> roundTripMs;
    bool keep = false;
    std::string playedAt; ///< "" = when the file was written
    std::string note;
    bool invented = false;
};

/// A take read from a file, as it would stand in the log.
struct Assessed {
    TakeRecord take;
    std::optional<TakeScore> from;
};

/// Reads, matches and judges. Writes nothing.
[[nodiscard]] Result<Assessed> assessMidi(const AssessOptions& options);

/// Puts the take into the log; refuses one that is there already.
[[nodiscard]] Result<Done> keep(const AssessOptions& options, const TakeRecord& take);

} // namespace valveladder::console
