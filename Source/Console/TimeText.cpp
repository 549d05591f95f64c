#include "Console/TimeText.h"

#include "Tempo/TimeZone.h"

#include <chrono>
#include <date/date.h>
#include <locale>
#include <sstream>
#include <utility>

namespace valveladder::console {

namespace {

using std::chrono::milliseconds;
using SysMs = date::sys_time<milliseconds>;

std::optional<date::local_time<milliseconds>> read(const std::string& text) {
    for (const char* format : {"%FT%T", "%FT%R", "%F"}) {
        std::istringstream stream(text);
        stream.imbue(std::locale::classic());
        date::local_time<milliseconds> time{};
        stream >> date::parse(format, time);
        if (!stream.fail() && stream.peek() == std::istringstream::traits_type::eof())
            return time;
    }
    return std::nullopt;
}

} // namespace

Result<UtcMs> parseTime(const std::string& text, const std::string& zone) {
    const bool utc = text.ends_with('Z');
    const auto time = read(utc ? text.substr(0, text.size() - 1) : text);
    if (!time || time->time_since_epoch() > date::local_days(date::year(9999) / 1 / 1).time_since_epoch())
        return Problem{"this is not a time", text, "Write 2026-03-28 or 2026-03-28T17:00, with Z for UTC"};
    if (utc)
        return UtcMs{time->time_since_epoch().count()};
    const std::string name = zoneOrLocal(zone);
    const auto known = TimeZone::find(name);
    if (!known)
        return Problem{"this machine does not know the time zone " + name, text, "Write it in UTC, with Z"};
    return UtcMs{known->toUtc(*time).time_since_epoch().count()};
}

Result<Done> readSpan(const std::string& from, const std::string& to, std::optional<UtcMs>& fromUtc,
                      std::optional<UtcMs>& toUtc) {
    for (const auto& [text, target] : {std::pair{&from, &fromUtc}, std::pair{&to, &toUtc}}) {
        if (text->empty())
            continue;
        const auto time = parseTime(*text, "");
        if (!time)
            return time.problem();
        *target = time.value();
    }
    return Done{};
}

std::string localText(UtcMs time, const std::string& zone) {
    const auto minute = date::floor<std::chrono::minutes>(SysMs(milliseconds(time)));
    const auto known = TimeZone::find(zoneOrLocal(zone));
    if (!known)
        return date::format(std::locale::classic(), "%F %RZ", minute);
    return date::format(std::locale::classic(), "%F %R", known->toLocal(minute));
}

std::string isoText(UtcMs time) {
    return date::format(std::locale::classic(), "%FT%TZ", SysMs(milliseconds(time)));
}

} // namespace valveladder::console
