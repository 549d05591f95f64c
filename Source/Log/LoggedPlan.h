#pragma once

#include "Log/LogStore.h"

#include <optional>
#include <string>

namespace valveladder {

/// One player's takes on one instrument, of whatever drill: the real ones, or the invented ones.
[[nodiscard]] TakeFilter playerFilter(const std::string& player, const std::string& instrumentId,
                                      bool invented);

/// The takes that make a tempo plan: of those of playerFilter(), the ones of the drill of one name. Real
/// takes and invented ones are never of the same plan.
[[nodiscard]] TakeFilter planFilter(const std::string& player, const std::string& instrumentId,
                                    const std::string& drillName, bool invented);

/// The rules of that plan: those kept with the log, so that two machines agree; where it keeps none,
/// `otherwise` (those of a drill's file, say); else the usual ones.
[[nodiscard]] Result<TempoRules> planRules(const LogStore& log, const std::string& player,
                                           const std::string& instrumentId, const std::string& drillName,
                                           const std::optional<TempoRules>& otherwise = std::nullopt);

/// What `read(invented)` gives of real takes; of invented ones where it `isEmpty`. The two are never mixed.
template <typename Read, typename IsEmpty>
[[nodiscard]] auto realBeforeInvented(Read read, IsEmpty isEmpty) {
    auto real = read(false);
    return !real || !isEmpty(real.value()) ? std::move(real) : read(true);
}

} // namespace valveladder
