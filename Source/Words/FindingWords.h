#pragma once

#include "Findings/CarryOver.h"
#include "Findings/Tiring.h"
#include "Findings/Trend.h"
#include "Findings/Weakness.h"

#include <string>
#include <vector>

namespace valveladder {

[[nodiscard]] const char* name(Complaint complaint); ///< "slow", "late", "uneven", "wrong"

/// "Your third finger goes down 38 ms late. Sure: 21 to 55 ms (112 changes in 14 takes)." "Sure" is the 90 %
/// interval; every sentence holds its figure, its interval and its n, and what else may be the cause.
/// `thumbValve` writes T for valve 4.
[[nodiscard]] std::string inWords(const Finding& finding, bool thumbValve = false);
[[nodiscard]] std::string inWords(const CarryOver& carryOver, const std::string& rungLabel = "");
[[nodiscard]] std::string inWords(const Tiring& tiring, bool thumbValve = false);
[[nodiscard]] std::string inWords(const Trend& trend, bool thumbValve = false);
/// That there is too little to say anything, or anything of changeovers; else nothing.
[[nodiscard]] std::vector<std::string> inWords(const Weaknesses& weaknesses);

} // namespace valveladder
