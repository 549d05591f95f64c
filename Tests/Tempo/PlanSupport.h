#pragma once

#include "Base/System.h"
#include "Tempo/TempoPlan.h"

#include <date/date.h>

#include <chrono>
#include <optional>
#include <string>

namespace valveladder::plansupport {

/// "2026-03-28 23:10:00.000" UTC as milliseconds, by calendar arithmetic alone: no zone has a part in it.
inline UtcMs utc(int year, unsigned month, unsigned day, int hour, int minute, int ms = 0) {
    using namespace std::chrono;
    const date::sys_days midnight = date::year(year) / static_cast<int>(month) / static_cast<int>(day);
    return duration_cast<milliseconds>(midnight.time_since_epoch()).count() +
           milliseconds(hours(hour) + minutes(minute)).count() + ms;
}

inline std::int64_t dayNumber(int year, unsigned month, unsigned day) {
    const date::sys_days midnight = date::year(year) / static_cast<int>(month) / static_cast<int>(day);
    return midnight.time_since_epoch().count();
}

/// Another machine's zone, for as long as this lives.
class ZoneOfMachine {
public:
    explicit ZoneOfMachine(const char* zone) : kept(environment("TZ")) { setEnvironment("TZ", zone); }
    ~ZoneOfMachine() { setEnvironment("TZ", kept); }
    ZoneOfMachine(const ZoneOfMachine&) = delete;
    ZoneOfMachine& operator=(const ZoneOfMachine&) = delete;

private:
    std::optional<std::string> kept;
};

} // namespace valveladder::plansupport
