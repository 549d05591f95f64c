#pragma once

#include "Console/FilterOptions.h"
#include "Console/LogOptions.h"

namespace valveladder::console {

/// Of which takes of which log what players said is counted.
struct CorrectionOptions {
    LogOptions log;
    FilterOptions filter;

    void add(CLI::App& app);
};

/// Counts how often players said "that was right" to what was reported: by instrument and by kind of report.
[[nodiscard]] Result<Done> evaluateCorrections(Tool& tool, const CorrectionOptions& options);

} // namespace valveladder::console
