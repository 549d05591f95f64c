#pragma once

#include "Review/Review.h"
#include "Session/SessionSetup.h"

#include <string>
#include <vector>

namespace valveladder {

/// What the log says of the demo's player, asked as any other program would ask. `invented`: its takes.
[[nodiscard]] Result<Review> reviewOfDemo(const LogStore& log, const SessionConfig& config, UtcMs now);

/// The findings, a sentence each; one that says so where nothing is found.
[[nodiscard]] std::vector<std::string> foundBy(const Review& review);

/// Findings, what stays open, the days and the next session, as plain text.
[[nodiscard]] std::string findingsText(const Review& review);

} // namespace valveladder
