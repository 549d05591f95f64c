#pragma once

#include "Tempo/TempoPlan.h"

#include <cstdint>
#include <string>

namespace valveladder::words {

/// "4 Mar" of a practice day, given as practiceDay() counts it: in no zone, as the day has its date already.
[[nodiscard]] std::string dayOf(std::int64_t day);
/// "4 Mar  18:05" of a moment where it was played; `timeZone` is the take's (an IANA name, "" or one that
/// this machine does not know = this machine's own).
[[nodiscard]] std::string timeOf(UtcMs utc, const std::string& timeZone);

} // namespace valveladder::words
