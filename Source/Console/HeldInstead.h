#pragma once

#include "Console/LogOptions.h"

#include <string>

namespace valveladder::console {

/// What a log holds where no take was found of what was asked for.
struct HeldInstead {
    std::string words;     ///< in sentences, with what to do where it holds nothing of the player
    bool ofPlayer = false; ///< it holds takes of the player, of another drill or on another instrument
};

/// The player's takes, else whose takes there are, else how a log begins. `player` "" = nobody is named. A
/// Problem where the log is there and cannot be read.
[[nodiscard]] Result<HeldInstead> heldInstead(const LogOptions& options, const std::string& player);

} // namespace valveladder::console
