#pragma once

#include "Findings/CarryOver.h"
#include "Findings/LastFingers.h"
#include "Findings/Tiring.h"
#include "Findings/Trend.h"
#include "Findings/Weakness.h"

#include <string>

namespace valveladder {

[[nodiscard]] const char* name(Complaint complaint); ///< "slow", "late", "uneven", "wrong"

/// "Your third finger goes down 38 ms late. Sure: 21 to 55 ms (112 changes in 14 takes)." "Sure" is the 90 %
/// interval; every sentence holds its figure, its interval and its n, and what else may be the cause.
/// `thumbValve` writes T for valve 4.
[[nodiscard]] std::string inWords(const Finding& finding, bool thumbValve = false);
[[nodiscard]] std::string inWords(const CarryOver& carryOver, const std::string& rungLabel = "");
[[nodiscard]] std::string inWords(const Tiring& tiring, bool thumbValve = false);
[[nodiscard]] std::string inWords(const Trend& trend, bool thumbValve = false);
/// "Your third finger goes down last in 79 % of your changes of two valves or more, as the valve sensors
/// tell. Sure: 67 to 88 % (52 changes in 4 takes)...", with how late it was and what chance gives.
[[nodiscard]] std::string inWords(const LastFinger& finger, bool thumbValve = false);
/// Where the fits of all changes say something to it: the same, or another thing, in one sentence that may
/// follow the one above; `named`: the fingers that the fits name. Empty where they say nothing.
[[nodiscard]] std::string inWords(const LastFinger& finger, TimingSays timing,
                                  const std::vector<Suspect>& named, bool thumbValve = false);
/// That sound and sensors disagree on a finger.
[[nodiscard]] std::string disagreementInWords(const LastFinger& bySound, const LastFinger& bySensors,
                                              bool thumbValve = false);

/// Said wherever a session mixes drills.
inline constexpr const char* mixingRemark =
    "Weak changes come back mixed rather than in blocks. The evidence for mixing is itself mixed: it was "
    "tried "
    "with ten clarinettists (Carter & Grahn 2016), and made no main effect with nineteen beginners.";

} // namespace valveladder
