#pragma once

#include <string>

/// What a review of a log left out, and why.
namespace valveladder::words {

[[nodiscard]] std::string takesLeftOut(int unreadable); ///< at least 1, see LoggedEvidence::unreadable
inline constexpr const char* nothingToReview =
    "no take can be read, and the instrument is not in the catalogue";

} // namespace valveladder::words
