#pragma once

#include "Review/Reviewer.h"
#include "View/SideModel.h"
#include "View/StairModel.h"

#include <optional>
#include <string>
#include <vector>

namespace valveladder {

/// Everything that is told over takes: the plain data of the places after a take and over weeks.
struct Overview {
    std::vector<TakeSummary> takes; ///< oldest first, finished ones
    std::vector<SideChoice> sides;  ///< to be laid side by side
    StairModel stair;
    std::optional<PracticeSession> next;
    std::vector<LogPlayer> others;    ///< who has takes in the log, where the player has none
    std::vector<std::string> players; ///< everybody in the log
    std::string player, instrument;   ///< that was asked for, by name
    bool invented = false;            ///< nobody played any of it
    std::optional<Problem> trouble;   ///< why something is missing
};

[[nodiscard]] Overview overviewOf(const Result<Review>& review, const Instrument& instrument);

} // namespace valveladder
