#include "View/LocalTime.h"

#include "Tempo/TimeZone.h"

#include <chrono>
#include <date/date.h>
#include <locale>

namespace valveladder::words {

namespace {

std::string formatted(const char* form, UtcMs utc) {
    const date::sys_time<std::chrono::milliseconds> instant{std::chrono::milliseconds(utc)};
    const auto minute = date::floor<std::chrono::minutes>(instant);
    const auto zone = TimeZone::find(localTimeZone());
    if (!zone)
        return date::format(std::locale::classic(), form, minute);
    return date::format(std::locale::classic(), form, zone->toLocal(minute));
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
