#pragma once

#include "Findings/Findings.h"

#include <string>
#include <vector>

namespace valveladder {

/// All that findings say, ready to be shown.
struct FindingsInWords {
    std::vector<std::string> claims;     ///< every claim, each with figure, interval and n
    std::vector<std::string> standsOut;  ///< those of the claims that do not tell of the days
    std::vector<std::string> lastClaims; ///< those of the claims that tell of fingers that come last, and
                                         ///< where sound, sensors and fits disagree on them
    std::vector<std::string> tendencies; ///< those of the claims that tell of carry-over and tiring
    std::vector<std::string> trends;     ///< those of the claims that tell how weaknesses went over the days
    std::string nothing;                 ///< that there is no claim, where enough was measured to say so
    std::vector<std::string> remarks;    ///< what cannot be told, and why
    std::string settle;                  ///< what would tell it; empty without a drill that does
};
[[nodiscard]] FindingsInWords inWords(const FindingsReport& report, const Instrument& instrument);

} // namespace valveladder
