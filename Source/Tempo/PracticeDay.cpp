#include "Tempo/PracticeDay.h"

#include "Base/System.h"
#include "Tempo/TempoPlan.h"

#include <algorithm>
#include <chrono>
#include <date/date.h>

namespace valveladder {

namespace {

constexpr date::sys_days firstDay = date::year(1) / 1 / 2;
constexpr date::sys_days lastDay = date::year(9999) / 12 / 30;

} // namespace

PracticeCalendar::PracticeCalendar(const TempoRules& rules)
    : zone(TimeZone::find(zoneOrLocal(rules.timeZone))), isNamed(!rules.timeZone.empty()),
      startHour(std::clamp(rules.dayStartsAtHour, 0, TempoLimits::latestDayStart)) {}

std::int64_t PracticeCalendar::day(UtcMs time) const {
    return dayIn(zone, time);
}

std::int64_t PracticeCalendar::dayOfTake(UtcMs time, const std::string& takeZone) const {
    if (isNamed || takeZone.empty())
        return day(time);
    const auto own = TimeZone::find(takeZone);
    return own ? dayIn(own, time) : day(time);
}

std::int64_t PracticeCalendar::dayIn(const std::optional<TimeZone>& where, UtcMs time) const {
    using std::chrono::milliseconds;
    const date::sys_time<milliseconds> first = firstDay;
    const date::sys_time<milliseconds> last = lastDay;
    const date::sys_time<milliseconds> instant =
        std::clamp(date::sys_time<milliseconds>(milliseconds(time)), first, last);
    const date::local_time<milliseconds> local =
        where ? where->toLocal(instant) : date::local_time<milliseconds>(instant.time_since_epoch());
    return date::floor<date::days>(local - std::chrono::hours(startHour)).time_since_epoch().count();
}

std::int64_t practiceDay(const TempoRules& rules, UtcMs time) {
    return PracticeCalendar(rules).day(time);
}

bool knownTimeZone(const std::string& name) {
    return name.empty() || TimeZone::find(name).has_value();
}

std::string localTimeZone() {
    if (const auto set = environment("TZ")) {
        const std::string name = set->starts_with(':') ? set->substr(1) : *set;
        if (!name.empty() && knownTimeZone(name))
            return name;
    }
    const std::string name = TimeZone::nameOnThisMachine();
    return name.empty() ? "Etc/UTC" : name;
}

std::string zoneOrLocal(const std::string& name) {
    return name.empty() ? localTimeZone() : name;
}

TempoRules withZone(TempoRules rules) {
    rules.timeZone = zoneOrLocal(rules.timeZone);
    return rules;
}

} // namespace valveladder
