#include "View/HelpWords.h"

#include "Ladder/Drill.h"
#include "View/DrillFields.h"

#include <fmt/format.h>

namespace valveladder::words {

std::string repeatsHelp() {
    return fmt::format("How many times each segment is played before the next, 1 to {}",
                       DrillLimits::maxRepeats);
}

std::string restHelp() {
    return fmt::format("Beats to breathe in after each segment, 0 to {:g}", mostFieldRestBeats);
}

std::string countInHelp() {
    return fmt::format("Bars of click before the first note, 0 to {}", DrillLimits::maxCountInBars);
}

} // namespace valveladder::words
