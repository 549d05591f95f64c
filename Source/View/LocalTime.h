#pragma once

#include "Tempo/TempoPlan.h"

#include <string>

namespace valveladder::words {

/// "4 Mar" of this machine's time zone.
[[nodiscard]] std::string dayOf(UtcMs utc);
/// "4 Mar  18:05" of this machine's time zone.
[[nodiscard]] std::string timeOf(UtcMs utc);

} // namespace valveladder::words
