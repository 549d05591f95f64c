#include "Tempo/TimeZone.h"

#include <date/tz.h>

#include <exception>

namespace valveladder {

namespace {

const date::time_zone& zoneOf(const void* zone) {
    return *static_cast<const date::time_zone*>(zone);
}

} // namespace

// The date library throws for names it does not know and where there is no database at all. It reads a zone's
// file at the first question, so that question is put here, where a broken file can be caught.
std::optional<TimeZone> TimeZone::find(const std::string& name) {
    try {
        const date::time_zone* zone = date::locate_zone(name);
        static_cast<void>(zone->get_info(date::sys_seconds{}));
        return TimeZone(zone);
    } catch (const std::exception&) {
        return std::nullopt;
    }
}

std::string TimeZone::nameOnThisMachine() {
    try {
        return date::current_zone()->name();
    } catch (const std::exception&) {
        return {};
    }
}

date::local_time<TimeZone::Ms> TimeZone::toLocal(date::sys_time<Ms> time) const {
    return zoneOf(zone).to_local(time);
}

date::sys_time<TimeZone::Ms> TimeZone::toUtc(date::local_time<Ms> time) const {
    return zoneOf(zone).to_sys(time, date::choose::earliest);
}

} // namespace valveladder
