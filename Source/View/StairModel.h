#pragma once

#include "Review/Review.h"

#include <string>
#include <vector>

namespace valveladder {

/// How long changes take in which something takes part: the median and its interval, ms.
struct WhiskerModel {
    std::string name; ///< "1 pressing", "1-2 to 2-3"
    int finger = 0;   ///< 1..4, 0 for a change
    bool pressing = false;
    Estimate ms;
    bool claimed = false; ///< a finding says so
    std::string words;    ///< the finding's own, empty when there is none
};

/// The place "over weeks". Plain data.
struct StairModel {
    std::vector<PlanDay> days;
    std::vector<std::int64_t> missedDays;
    int fingersOnHand = 3;
    bool thumbValve = false;
    std::vector<WhiskerModel> fingers; ///< pressing and releasing, of fingers that were measured
    std::vector<WhiskerModel> changes; ///< the slowest first
    std::vector<std::string> claims;
    std::vector<std::string> remarks;
    std::string plan; ///< plan against reality in words
    int takes = 0;
};

inline constexpr int mostChangesShown = 10;

[[nodiscard]] StairModel stairModel(const Review& review, const Instrument& instrument);

} // namespace valveladder
