#pragma once

#include "Base/Problem.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace valveladder {

/// Milliseconds since 1970-01-01 UTC.
using UtcMs = std::int64_t;

/// What counts as a passed take. A take is passed when it is whole and stays inside every limit.
struct PassRule {
    int maxWrong = 0;
    int maxMissed = 0;
    int maxExtra = 0;
    double maxIoiSpreadPercent =
        15.0; ///< of the inter-onset interval, spread of the residuals; 0 = not judged
    bool operator==(const PassRule&) const = default;
};

/// How the tempo rises. One step a day of 1-3 bpm is common practice, no source.
struct TempoRules {
    double startBpm = 60.0;     ///< where it is very comfortable
    double stepPerTake = 0.0;   ///< 0..3, after each passed take (see passesPerStep)
    double stepPerDay = 2.0;    ///< 1..3, when the day before had a passed take
    int passesPerStep = 1;      ///< hold: passed takes in a row before stepPerTake is added, 1..10
    int failuresBeforeBack = 2; ///< failed takes in a row before stepping back
    double stepBack = 2.0;      ///< bpm, 0..10
    double ceilingBpm = 132.0;
    double toleranceBpm = 0.5; ///< a take further than this below the plan neither passes nor fails
    std::string timeZone = ""; ///< IANA name that defines the player's days; "" = this machine's zone
    int dayStartsAtHour = 0;   ///< local hour at which a practice day begins, 0..12
    PassRule pass;
    bool operator==(const TempoRules&) const = default;
};

/// One finished take as the plan needs it. All of it comes from the log.
struct PlanTake {
    UtcMs startedUtc = 0;
    std::string takeId; ///< breaks ties of startedUtc, so that two machines with the same log agree
    double playedBpm = 0.0;
    bool whole = true;
    bool passed = false;
};

enum class PlanReason { start, hold, steppedUp, steppedBack, newDayUp, newDayHold, ceiling };

struct PlannedTempo {
    double bpm = 60.0;
    PlanReason reason = PlanReason::start;
    int passesInRow = 0;
    int failuresInRow = 0;
    std::string words; ///< one sentence for the player
};

/// The next take's tempo: a pure function of the rules, the takes in any order, and the time asked for.
[[nodiscard]] PlannedTempo nextTempo(const TempoRules& rules, std::vector<PlanTake> takes, UtcMs now);

/// The rules themselves, or the first that is out of range (or a time zone that this machine does not know).
[[nodiscard]] Result<TempoRules> checked(TempoRules rules);

/// Days since 1970-01-01 of the practice day that holds `time`, in the rules' zone (summer time included).
[[nodiscard]] std::int64_t practiceDay(const TempoRules& rules, UtcMs time);

/// IANA name of this machine's zone, "Etc/UTC" when it cannot be told.
[[nodiscard]] std::string localTimeZone();

} // namespace valveladder
