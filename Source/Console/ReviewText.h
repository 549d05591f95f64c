#pragma once

#include "Console/Tool.h"
#include "Review/Review.h"

#include <string>
#include <vector>

namespace valveladder::console {

/// "Ann, Trumpet in B flat (invented): 14 takes on 5 days, 2026-03-04 to 2026-03-08"
[[nodiscard]] std::string heading(const Review& review);

/// A heading and a point for each line, wrapped; nothing where there are no lines.
void printPoints(Tool& tool, const std::string& title, const std::vector<std::string>& lines);

/// Everything that the takes say, for the player.
void printReview(Tool& tool, const Review& review);
/// The session proposed: what to play, how fast, when to rest.
void printSession(Tool& tool, const PracticeSession& session);
void printCare(Tool& tool, const std::vector<CareText>& texts);

[[nodiscard]] Json asJson(const Estimate& estimate);
[[nodiscard]] Json asJson(const Finding& finding, bool thumbValve);
[[nodiscard]] Json asJson(const Review& review);
[[nodiscard]] Json asJson(const PracticeSession& session);
[[nodiscard]] Json asJson(const std::vector<CareText>& texts);

} // namespace valveladder::console
