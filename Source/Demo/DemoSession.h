#pragma once

#include "Base/Problem.h"
#include "Demo/DemoReport.h"

#include <cstdint>
#include <filesystem>

namespace valveladder {

struct DemoOptions {
    std::filesystem::path plugin; ///< the built VST3
    std::filesystem::path folder; ///< made when absent; a log already there is continued
    std::uint32_t seed = 1;
    int takes = 6; ///< 1..100
};

/// Plays the demo session through the plugin: log, guide.mid, tempo-map.mid, session.mid and report.txt lie
/// in the folder afterwards.
[[nodiscard]] Result<DemoReport> playDemo(const DemoOptions& options);

} // namespace valveladder
