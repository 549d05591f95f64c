#pragma once

#include "Tempo/TempoPlan.h"

#include <cstdint>
#include <string>

namespace valveladder::words {

/// "4 Mar" of a practice day, given as practiceDay() counts it: in no zone, as the day has its date already.
[[nodiscard]] std::string dayOf(std::int64_t day);
/// "4 Mar  18:05" of this machine's time zone.
[[nodiscard]] std::string timeOf(UtcMs utc);

} // namespace valveladder::words
