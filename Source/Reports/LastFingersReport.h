#pragma once

#include "Findings/LastFingers.h"

#include <string>
#include <vector>

namespace valveladder {

/// A table of which finger came last, claimed or not, by sound and by valve sensors apart, at most 80 columns
/// wide; empty where no order was told. `thumbValve` writes T for valve 4.
[[nodiscard]] std::string lastFingersText(const std::vector<LastFinger>& fingers, bool thumbValve = false);

/// "sound", "valve sensors" or "nothing".
[[nodiscard]] const char* name(OrderFrom from);

} // namespace valveladder
