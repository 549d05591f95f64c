#pragma once

#include "Findings/FingersApart.h"
#include "Findings/LastFingers.h"

#include <string>
#include <vector>

namespace valveladder {

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

/// Of one take: "3 after 2 by 31 ms in 1-2 to 2-3 (4 of 12 times in this take)".
[[nodiscard]] std::string inWords(const FingersApart& apart, bool thumbValve = false);
/// Of one change: "3 after 2 by 31 ms"; empty where no finger is told to have come late.
[[nodiscard]] std::string fingersApartInWords(const ChangeResult& change, bool thumbValve = false);

} // namespace valveladder
