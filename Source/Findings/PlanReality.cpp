#include "Findings/PlanReality.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>

namespace valveladder {

namespace {

void count(PlanDay& day, const TakeFacts& facts) {
    const auto widen = [first = day.takes == 0](double& low, double& high, double value) {
        low = first ? value : std::min(low, value);
        high = first ? value : std::max(high, value);
    };
    widen(day.plannedLow, day.plannedHigh, facts.plannedBpm);
    widen(day.playedLow, day.playedHigh, facts.playedBpm);
    ++day.takes;
    day.whole += facts.whole ? 1 : 0;
    day.passed += facts.passed ? 1 : 0;
    day.offPlan += facts.slowerThanPlanned ? 1 : 0;
    if (facts.passed)
        day.heldBpm = std::max(day.heldBpm.value_or(0.0), facts.playedBpm);
}

} // namespace

std::string dayName(std::int64_t day) {
    const std::chrono::sys_days date{std::chrono::days(day)};
    const std::chrono::year_month_day parts{date};
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(parts.year()),
                       static_cast<unsigned>(parts.month()), static_cast<unsigned>(parts.day()));
}

PlanReality planAgainstReality(std::span<const TakeEvidence> takes) {
    std::map<std::pair<std::int64_t, std::string>, PlanDay> byDay;
    PlanReality found;
    for (const auto& take : takes) {
        auto& day = byDay[{take.facts.day, take.facts.drillName}];
        day.day = take.facts.day;
        day.drillName = take.facts.drillName;
        count(day, take.facts);
        if (take.facts.passed)
            found.heldBpm = std::max(found.heldBpm.value_or(0.0), take.facts.playedBpm);
    }
    for (auto& [key, day] : byDay)
        found.days.push_back(std::move(day));
    if (found.days.empty())
        return found;
    const std::int64_t first = found.days.front().day;
    const std::int64_t last = found.days.back().day;
    found.daysInRange = static_cast<int>(last - first + 1);
    auto next = found.days.begin();
    for (std::int64_t day = first; day <= last; ++day) {
        while (next != found.days.end() && next->day < day)
            ++next;
        if (next == found.days.end() || next->day != day)
            found.missedDays.push_back(day);
    }
    return found;
}

} // namespace valveladder
