#pragma once

#include "Findings/SideBySide.h"

#include <cstdint>
#include <vector>

namespace valveladder {

/// What a change's notes differ by, note against same note, beyond what all notes differ by: the fit that
/// finds weaknesses, on differences. Changes are taken up one by one, each only if the largest t of all
/// changes would rarely be so large by chance. `measure` is deviation or changeover; `alpha` the chance
/// allowed for any false one. Changes in which a finger moves and that both groups hold, in the order of the
/// drill.
[[nodiscard]] std::vector<ComparedChange> compareChanges(const Score& score, const SideGroup& first,
                                                         const SideGroup& other, NoteMeasure measure,
                                                         double alpha, std::uint64_t seed);

} // namespace valveladder
