#pragma once

#include "Log/LogStore.h"
#include "Music/OwnChanges.h"

namespace valveladder {

/// What the log says of a player's changes on an instrument, from the newest 50 takes: older ones say less
/// about the player of today; our choice, no source. Invented takes count only where there are no real ones.
[[nodiscard]] Result<OwnChanges> loggedChanges(const LogStore& log, const std::string& player,
                                               const std::string& instrumentId);

} // namespace valveladder
