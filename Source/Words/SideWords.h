#pragma once

#include "Findings/SideBySide.h"

#include <string>
#include <vector>

namespace valveladder {

/// All notes of two sides: "Changeovers: 12 ms shorter, more than chance. 90 % interval 6 to 18 ms (80
/// changes)", or "Changeovers: no difference that can be told. 3 ms longer, 90 % interval -1 to 7 ms (80
/// changes)".
[[nodiscard]] std::string sideLine(const Estimate& difference, NoteMeasure measure, bool beyondChance);

/// "Changeovers: not measured in both".
[[nodiscard]] std::string notComparedLine(NoteMeasure measure);

/// One change that differs: "1-2 to 2-3: 15 ms longer, more than chance. 90 % interval 9 to 21 ms (12
/// changes)". `thumbValve`: of the instrument, whose fourth valve is "T" then.
[[nodiscard]] std::string sideChangeLine(const ComparedChange& change, NoteMeasure measure, bool thumbValve);

/// One of the lines above.
struct SideLine {
    enum class About { allNotes, oneChange, nothingInBoth } about = About::allNotes;
    std::string text;
};
/// Each measure in turn, under it the changes that differ beyond chance.
[[nodiscard]] std::vector<SideLine> sideLines(const SideOverall& overall, bool thumbValve);

} // namespace valveladder
