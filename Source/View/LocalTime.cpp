#include "View/LocalTime.h"

#include <date/date.h>
#include <date/tz.h>

#include <chrono>
#include <locale>

namespace valveladder::words {

namespace {

std::string formatted(const char* form, UtcMs utc) {
    const date::sys_time<std::chrono::milliseconds> instant{std::chrono::milliseconds(utc)};
    const auto minute = date::floor<std::chrono::minutes>(instant);
    const std::string zone = localTimeZone();
    if (!knownTimeZone(zone))
        return date::format(std::locale::classic(), form, minute);
    return date::format(std::locale::classic(), form, date::locate_zone(zone)->to_local(minute));
}

/// Without the blank or nought that calendars' forms put before a single figure.
std::string trimmed(std::string text) {
    return text.front() == '0' ? text.substr(1) : text;
}

} // namespace

std::string dayOf(UtcMs utc) {
    return trimmed(formatted("%d %b", utc));
}

std::string timeOf(UtcMs utc) {
    return trimmed(formatted("%d %b  %H:%M", utc));
}

} // namespace valveladder::words
