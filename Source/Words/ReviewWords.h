#pragma once

#include <string>

/// Of a review of a log: the titles of its parts, and what it left out and why.
namespace valveladder::words {

inline constexpr const char* cannotTellTitle = "What these takes cannot tell";
inline constexpr const char* trendsTitle = "Over the days";
inline constexpr const char* planTitle = "Plan and reality";

[[nodiscard]] std::string takesLeftOut(int unreadable); ///< at least 1, see LoggedEvidence::unreadable
inline constexpr const char* nothingToReview =
    "no take can be read, and the instrument is not in the catalogue";

} // namespace valveladder::words
