#pragma once

#include "Findings/SideBySide.h"
#include "Log/LogStore.h"

#include <span>
#include <string>
#include <vector>

namespace valveladder {

/// Takes that count as one side: a take, or the takes of a day.
struct ComparedSide {
    std::string label;
    std::vector<std::string> takeIds;
};

/// Takes of one drill side by side, with what is needed to show them.
struct Comparison {
    Instrument instrument;
    Score score; ///< of the first take
    std::vector<ComparedSide> sides;
    SideBySide notes;
};

/// Reads the takes (ids, or their unambiguous beginnings) and lays them side by side. Fails when a take is
/// not there, cannot be read, or asks for other notes or fingerings than the first. Two sides or more.
[[nodiscard]] Result<Comparison> compareTakes(const LogStore& log, const std::vector<ComparedSide>& sides);

} // namespace valveladder
