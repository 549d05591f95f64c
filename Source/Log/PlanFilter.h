#pragma once

#include "Log/LogStore.h"

#include <string>

namespace valveladder {

/// The takes that make a tempo plan: one player's on one instrument, of the drill of one name. Real takes and
/// invented ones are never of the same plan.
[[nodiscard]] TakeFilter planFilter(const std::string& player, const std::string& instrumentId,
                                    const std::string& drillName, bool invented);

} // namespace valveladder
