#pragma once

#include "Findings/PlanReality.h"
#include "Tempo/TempoPlan.h"

#include <string>

namespace valveladder {

/// Why the next tempo is what it is, one sentence: "Passed at 60: next take at 62."
[[nodiscard]] std::string inWords(const PlannedTempo& planned);

/// One practice day with one drill: "2024-03-04, Ladder: 3 takes, 2 passed; planned 60 to 62 bpm, ...".
[[nodiscard]] std::string inWords(const PlanDay& day);
/// "practised on 2 of 3 days, fastest tempo held 66 bpm"; empty without a day.
[[nodiscard]] std::string inWords(const PlanReality& reality);

} // namespace valveladder
