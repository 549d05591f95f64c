#include "Log/PlanFilter.h"

namespace valveladder {

TakeFilter planFilter(const std::string& player, const std::string& instrumentId,
                      const std::string& drillName, bool invented) {
    TakeFilter filter;
    filter.player = player;
    filter.instrumentId = instrumentId;
    filter.drillName = drillName;
    filter.withInvented = invented;
    filter.withReal = !invented;
    return filter;
}

} // namespace valveladder
