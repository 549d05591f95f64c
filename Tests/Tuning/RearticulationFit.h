#pragma once

#include "Listening/RearticulationEvidence.h"
#include "Support/TakesInLife.h"

#include <span>
#include <string>
#include <vector>

namespace valveladder::testing {

/// A moment at which a tone may have been struck again, and whether it was.
struct KnownRearticulation {
    RearticulationEvidence evidence;
    bool so = false;
};

/// Of the takes of a part dry and in rooms, in which the first of two articulations ends in silence, and dry
/// where it dies away under the second.
[[nodiscard]] std::vector<KnownRearticulation> knownRearticulations(Part part, int size);

/// RearticulationEvidenceConstants.h with weights fitted to these.
[[nodiscard]] std::string rearticulationHeader(std::span<const KnownRearticulation> known);

} // namespace valveladder::testing
