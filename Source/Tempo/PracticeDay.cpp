#include "Tempo/PracticeDay.h"
#include "Tempo/TempoPlan.h"

#include <date/date.h>
#include <date/tz.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <exception>

namespace valveladder {

namespace {

// The date library throws for names it does not know and where there is no database at all. It reads a zone's
// file at the first question, so that question is put here, where a broken file can be caught.
const date::time_zone* findZone(const std::string& name) {
    try {
        const date::time_zone* zone = date::locate_zone(name);
        static_cast<void>(zone->get_info(date::sys_seconds{}));
        return zone;
    } catch (const std::exception&) {
        return nullptr;
    }
}

std::string systemZoneName() {
    try {
        return date::current_zone()->name();
    } catch (const std::exception&) {
        return {};
    }
}

constexpr date::sys_days firstDay = date::year(1) / 1 / 2;
constexpr date::sys_days lastDay = date::year(9999) / 12 / 30;

} // namespace

PracticeCalendar::PracticeCalendar(const TempoRules& rules)
    : zone(findZone(rules.timeZone.empty() ? localTimeZone() : rules.timeZone)),
      startHour(std::clamp(rules.dayStartsAtHour, 0, 12)) {}

std::int64_t PracticeCalendar::day(UtcMs time) const {
    using std::chrono::milliseconds;
    const date::sys_time<milliseconds> first = firstDay;
    const date::sys_time<milliseconds> last = lastDay;
    const date::sys_time<milliseconds> instant =
        std::clamp(date::sys_time<milliseconds>(milliseconds(time)), first, last);
    const date::local_time<milliseconds> local =
        zone != nullptr ? zone->to_local(instant)
                        : date::local_time<milliseconds>(instant.time_since_epoch());
    return date::floor<date::days>(local - std::chrono::hours(startHour)).time_since_epoch().count();
}

std::int64_t practiceDay(const TempoRules& rules, UtcMs time) {
    return PracticeCalendar(rules).day(time);
}

bool knownTimeZone(const std::string& name) {
    return name.empty() || findZone(name) != nullptr;
}

std::string localTimeZone() {
    if (const char* set = std::getenv("TZ")) {
        const std::string name = *set == ':' ? set + 1 : set;
        if (!name.empty() && knownTimeZone(name))
            return name;
    }
    const std::string name = systemZoneName();
    return name.empty() ? "Etc/UTC" : name;
}

} // namespace valveladder
