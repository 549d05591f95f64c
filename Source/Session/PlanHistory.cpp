#include "Session/PlanHistory.h"

#include "Log/LoggedPlan.h"

namespace valveladder {

namespace {

/// As planFilter() chooses, of a take that the log may not hold yet.
bool isOfPlan(const TakeHeader& header, const SessionConfig& config) {
    return header.player == config.player && header.instrumentId == config.instrument.id &&
           header.drillName == config.drill.name && header.invented == config.invented;
}

} // namespace

void PlanHistory::count(const TakeRecord& record, const SessionConfig& config) {
    if (plan && isOfPlan(record.header, config))
        plan->add({record.header.startedUtc, record.header.id, record.playedBpm,
                   record.state == TakeState::whole, record.passed, record.performance.measured(),
                   record.header.timeZone});
}

void PlanHistory::begin(const TakeKeeper& keeper, const SessionConfig& config) {
    plan.emplace(config.rules);
    readTo = 0;
    for (const TakeRecord& record : keeper.waitingTakes())
        count(record, config);
}

std::optional<Problem> PlanHistory::catchUp(TakeKeeper& keeper, const SessionConfig& config) {
    LogStore* store = keeper.store();
    if (!plan || (store != nullptr && store->machine() != logMachine))
        begin(keeper, config);
    if (store == nullptr)
        return std::nullopt;
    logMachine = store->machine();
    const auto newest = store->newestNumber();
    if (!newest)
        return newest.problem();
    TakeFilter filter = planFilter(config.player, config.instrument.id, config.drill.name, config.invented);
    filter.fromNumber = readTo;
    const auto takes = store->planTakes(filter);
    if (!takes)
        return takes.problem();
    for (const PlanTake& take : takes.value())
        plan->add(take);
    readTo = newest.value();
    return std::nullopt;
}

bool PlanHistory::playedOnDayOf(UtcMs now, const TempoRules& rules) const {
    const auto newest = plan->newestDay();
    return newest && *newest == practiceDay(rules, now);
}

} // namespace valveladder
