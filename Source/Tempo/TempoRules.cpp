#include "Ladder/Drill.h"
#include "Tempo/TempoMap.h"
#include "Tempo/TempoPlan.h"

#include <algorithm>
#include <fmt/format.h>

namespace valveladder {

namespace {

struct Range {
    const char* where;
    double value;
    double low;
    double high;
    const char* unit;
};

std::optional<Problem> outside(const Range& range) {
    if (range.value >= range.low && range.value <= range.high)
        return std::nullopt;
    return Problem{fmt::format("{:g}{} is outside {:g} to {:g}{}", range.value, range.unit, range.low,
                               range.high, range.unit),
                   range.where, "Choose a value within these limits"};
}

} // namespace

bool passes(const PassRule& rule, bool whole, int wrong, int missed, int extra,
            std::optional<double> worstIoiSpreadPercent) {
    if (!whole || wrong > rule.maxWrong || missed > rule.maxMissed || extra > rule.maxExtra)
        return false;
    const bool judged = rule.maxIoiSpreadPercent > 0.0 && worstIoiSpreadPercent.has_value();
    return !judged || *worstIoiSpreadPercent <= rule.maxIoiSpreadPercent;
}

Result<TempoRules> checked(TempoRules rules) {
    const Range ranges[] = {
        {"start tempo", rules.startBpm, minBpm, maxBpm, " bpm"},
        {"step per take", rules.stepPerTake, 0.0, TempoLimits::maxStep, " bpm"},
        {"step per day", rules.stepPerDay, 0.0, TempoLimits::maxStep, " bpm"},
        {"passed takes per step", static_cast<double>(rules.passesPerStep), 1.0, TempoLimits::maxInRow, ""},
        {"failed takes before stepping back", static_cast<double>(rules.failuresBeforeBack), 1.0,
         TempoLimits::maxInRow, ""},
        {"step back", rules.stepBack, 0.0, TempoLimits::maxStepBack, " bpm"},
        {"ceiling tempo", rules.ceilingBpm, minBpm, maxBpm, " bpm"},
        {"tempo tolerance", rules.toleranceBpm, 0.0, TempoLimits::maxTolerance, " bpm"},
        {"hour at which the day starts", static_cast<double>(rules.dayStartsAtHour), 0.0,
         TempoLimits::latestDayStart, ""},
        {"wrong notes allowed", static_cast<double>(rules.pass.maxWrong), 0.0, DrillLimits::maxNotes, ""},
        {"missed notes allowed", static_cast<double>(rules.pass.maxMissed), 0.0, DrillLimits::maxNotes, ""},
        {"extra notes allowed", static_cast<double>(rules.pass.maxExtra), 0.0, DrillLimits::maxNotes, ""},
        {"spread allowed", rules.pass.maxIoiSpreadPercent, 0.0, TempoLimits::maxSpreadPercent, " %"},
    };
    for (const Range& range : ranges)
        if (auto problem = outside(range))
            return *problem;
    if (rules.ceilingBpm < rules.startBpm)
        return Problem{
            fmt::format("{:g} bpm lies below the start tempo, {:g} bpm", rules.ceilingBpm, rules.startBpm),
            "ceiling tempo", "Raise the ceiling or lower the start"};
    if (!knownTimeZone(rules.timeZone))
        return Problem{fmt::format("this machine knows no time zone '{}'", rules.timeZone), "time zone",
                       "Give an IANA name such as Europe/Berlin, or none for this machine's own"};
    return rules;
}

TempoRules withStart(TempoRules rules, double bpm) {
    rules.startBpm = bpm;
    rules.ceilingBpm = std::max(rules.ceilingBpm, bpm);
    return rules;
}

} // namespace valveladder
