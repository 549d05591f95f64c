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
    std::string trouble; ///< why something is missing; empty = all is there
};

[[nodiscard]] Overview overviewOf(const Result<Review>& review, const Instrument& instrument);

} // namespace valveladder
