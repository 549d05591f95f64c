#include "View/LocalTime.h"

#include "Tempo/TimeZone.h"

#include <chrono>
#include <date/date.h>
#include <locale>

namespace valveladder::words {

namespace {

/// Without the nought that calendars' forms put before a single figure.
template <typename Time>
std::string formatted(const char* form, const Time& time) {
    std::string text = date::format(std::locale::classic(), form, time);
    return text.front() == '0' ? text.substr(1) : text;
}

} // namespace

std::string dayOf(std::int64_t day) {
    return formatted("%d %b", date::sys_days(date::days(day)));
}

std::string timeOf(UtcMs utc, const std::string& timeZone) {
    constexpr const char* form = "%d %b  %H:%M";
    const date::sys_time<std::chrono::milliseconds> instant{std::chrono::milliseconds(utc)};
    const auto minute = date::floor<std::chrono::minutes>(instant);
    auto zone = TimeZone::find(zoneOrLocal(timeZone));
    if (!zone)
        zone = TimeZone::find(localTimeZone());
    return zone ? formatted(form, zone->toLocal(minute)) : formatted(form, minute);
}

} // namespace valveladder::words
