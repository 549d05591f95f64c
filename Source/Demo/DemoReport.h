#pragma once

#include "Records/TakeRecord.h"
#include "Tempo/TempoPlan.h"

#include <string>
#include <vector>

namespace valveladder {

/// What the demo tells at its end.
struct DemoReport {
    std::string pluginName;
    std::string player;
    std::uint32_t seed = 0;
    bool thumbValve = false;       ///< of the instrument
    std::vector<TakeRecord> takes; ///< of this run, oldest first
    PlannedTempo next;
    std::vector<std::string> found; ///< the findings in words
};

/// Plain text: what was practised, each take in a line, the slowest changes, what comes next, what was found.
[[nodiscard]] std::string reportText(const DemoReport& report);

} // namespace valveladder
