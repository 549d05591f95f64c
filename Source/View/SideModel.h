#pragma once

#include "Review/Comparison.h"
#include "Review/LogEvidence.h"
#include "View/LogReader.h"

#include <memory>
#include <string>
#include <vector>

namespace valveladder {

/// One side to compare: a take ("4 Mar 18:05, 66 bpm"), or all takes of a practice day ("4 Mar, 4 takes").
using SideChoice = ComparedSide;

/// Everything that may be chosen: days with several takes first, then takes, the newest first.
[[nodiscard]] std::vector<SideChoice> sideChoices(const std::vector<DatedTake>& takes);

using LoadedTakes = std::vector<std::shared_ptr<const LoadedTake>>;

/// Several takes of the same notes as one: means of what was measured. Takes of other notes than the first's
/// are left out. Precondition: at least one take without trouble.
[[nodiscard]] TakeModel meanModel(const LoadedTakes& takes);

/// The two sides against each other in words, one line a measure; or why they cannot be compared.
[[nodiscard]] std::vector<std::string> sideWords(const LoadedTakes& first, const LoadedTakes& second);

} // namespace valveladder
