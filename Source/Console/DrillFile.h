#pragma once

#include "Base/Problem.h"
#include "Ladder/Drill.h"
#include "Tempo/TempoPlan.h"

#include <optional>
#include <string>

namespace valveladder::console {

/// A drill file's drill and tempo plan.
struct ReadDrill {
    Drill drill;
    std::optional<TempoRules> rules;
};

/// What a drill file holds: the ranges of the tempo plan are checked, those of the drill are not. Problems
/// name the file.
[[nodiscard]] Result<ReadDrill> readDrill(const std::string& path);

} // namespace valveladder::console
