#pragma once

#include "Tempo/TempoPlan.h"

#include <string>

namespace valveladder {

/// Why the next tempo is what it is, one sentence: "Passed at 60: next take at 62."
[[nodiscard]] std::string inWords(const PlannedTempo& planned);

} // namespace valveladder
