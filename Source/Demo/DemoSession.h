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

/// Plays the demo session through the plugin. In the folder lie afterwards the log with the plan's rules,
/// guide.mid, tempo-map.mid, session.mid, take.svg, practice-sheet.pdf, findings.txt and report.txt.
[[nodiscard]] Result<DemoReport> playDemo(const DemoOptions& options);

} // namespace valveladder
