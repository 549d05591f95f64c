#pragma once

#include "Log/TakeKeeper.h"
#include "Session/SessionSetup.h"

#include <cstdint>
#include <optional>
#include <string>

namespace valveladder {

/// The tempo plan of a configuration as the log tells it, kept up with takes as they come: a finished take
/// costs the same however many there are. [worker]
class PlanHistory {
public:
    /// Another plan, or other rules: all is read anew at the next catchUp().
    void restart() { plan.reset(); }
    /// A take of ours that the log may not hold yet.
    void count(const TakeRecord& record, const SessionConfig& config);
    /// Takes that the log holds and the history does not: all at first, then what others wrote meanwhile. A
    /// Problem where the log cannot be read; the history is as before then.
    [[nodiscard]] std::optional<Problem> catchUp(TakeKeeper& keeper, const SessionConfig& config);

    // After catchUp().
    [[nodiscard]] PlannedTempo next(UtcMs now) const { return plan->next(now); }
    [[nodiscard]] bool playedOnDayOf(UtcMs now, const TempoRules& rules) const;

private:
    void begin(const TakeKeeper& keeper, const SessionConfig& config);

    std::optional<RunningPlan> plan;
    std::int64_t readTo = 0; ///< it holds the log's takes up to this number
    std::string logMachine;  ///< of that log
};

} // namespace valveladder
