#pragma once

#include "Findings/Findings.h"

#include <string>
#include <vector>

namespace valveladder {

/// All that findings say, ready to be shown.
struct FindingsInWords {
    std::vector<std::string> claims;     ///< every claim, each with figure, interval and n
    std::vector<std::string> lastClaims; ///< those of the claims that tell of fingers that come last, and
                                         ///< where sound, sensors and fits disagree on them
    std::vector<std::string> tendencies; ///< those of the claims that tell of carry-over and tiring
    std::vector<std::string> remarks;    ///< what cannot be told, and why
    std::string settle;                  ///< what would tell it; empty without a drill that does
};
[[nodiscard]] FindingsInWords inWords(const FindingsReport& report, const Instrument& instrument);

} // namespace valveladder
