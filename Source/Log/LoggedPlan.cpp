#include "Log/LoggedPlan.h"

namespace valveladder {

TakeFilter playerFilter(const std::string& player, const std::string& instrumentId, bool invented) {
    TakeFilter filter;
    filter.player = player;
    filter.instrumentId = instrumentId;
    filter.withInvented = invented;
    filter.withReal = !invented;
    return filter;
}

TakeFilter planFilter(const std::string& player, const std::string& instrumentId,
                      const std::string& drillName, bool invented) {
    TakeFilter filter = playerFilter(player, instrumentId, invented);
    filter.drillName = drillName;
    return filter;
}

Result<TempoRules> planRules(const LogStore& log, const std::string& player, const std::string& instrumentId,
                             const std::string& drillName, const std::optional<TempoRules>& otherwise) {
    auto kept = log.rules(player, instrumentId, drillName);
    if (!kept)
        return kept.problem();
    return kept.value() ? std::move(*kept.value()) : otherwise.value_or(TempoRules{});
}

} // namespace valveladder
