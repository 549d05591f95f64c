// Windows has no IANA database: it lies inside the program (cmake/ZoneArchive.cmake), an archive of compiled
// zones (RFC 8536) beside the Unicode Consortium's table of Windows' own names for them.

#include "Tempo/TimeZone.h"
#include "Tempo/ZoneArchive.h"

#include <windows.h>

#include <algorithm>
#include <cctz/time_zone.h>
#include <cctz/zone_info_source.h>
#include <cstring>
#include <map>
#include <mutex>
#include <pugixml.hpp>

namespace valveladder {

namespace {

class ArchivedZone : public cctz::ZoneInfoSource {
public:
    explicit ArchivedZone(std::string bytes) : content(std::move(bytes)) {}

    std::size_t Read(void* target, std::size_t size) override {
        const std::size_t count = std::min(size, content.size() - at);
        std::memcpy(target, content.data() + at, count);
        at += count;
        return count;
    }
    int Skip(std::size_t offset) override {
        at += std::min(offset, content.size() - at);
        return 0;
    }

private:
    std::string content;
    std::size_t at = 0;
};

std::unique_ptr<cctz::ZoneInfoSource>
fromArchive(const std::string& name,
            const std::function<std::unique_ptr<cctz::ZoneInfoSource>(const std::string&)>&) {
    auto bytes = archivedZoneFile("zones/" + name);
    return bytes ? std::make_unique<ArchivedZone>(std::move(*bytes)) : nullptr;
}

/// The first zone of the one that the table gives for all territories: "Europe/Berlin" for "W. Europe
/// Standard Time".
std::string ianaName(const std::string& windowsName) {
    const auto table = archivedZoneFile("windowsZones.xml");
    pugi::xml_document document;
    if (!table || !document.load_buffer(table->data(), table->size()))
        return {};
    for (const pugi::xml_node row :
         document.child("supplementalData").child("windowsZones").child("mapTimezones").children("mapZone"))
        if (row.attribute("other").value() == windowsName &&
            std::strcmp(row.attribute("territory").value(), "001") == 0) {
            const std::string names = row.attribute("type").value();
            return names.substr(0, names.find(' '));
        }
    return {};
}

/// Windows' names of zones are plain ASCII.
std::string windowsName() {
    DYNAMIC_TIME_ZONE_INFORMATION info{};
    if (GetDynamicTimeZoneInformation(&info) == TIME_ZONE_ID_INVALID)
        return {};
    std::string name;
    for (const wchar_t letter : info.TimeZoneKeyName) {
        if (letter == 0)
            break;
        name += static_cast<char>(letter);
    }
    return name;
}

const cctz::time_zone& zoneOf(const void* zone) {
    return *static_cast<const cctz::time_zone*>(zone);
}

using Seconds = std::chrono::seconds;

} // namespace

std::optional<TimeZone> TimeZone::find(const std::string& name) {
    static std::mutex guard;
    static std::map<std::string, cctz::time_zone> known; // never shortened: what it holds stays where it is
    const std::lock_guard lock(guard);
    cctz_extension::zone_info_source_factory = fromArchive;
    const auto found = known.find(name);
    if (found != known.end())
        return TimeZone(&found->second);
    cctz::time_zone zone;
    if (!archivedZoneFile("zones/" + name) || !cctz::load_time_zone(name, &zone))
        return std::nullopt;
    return TimeZone(&known.emplace(name, zone).first->second);
}

std::string TimeZone::nameOnThisMachine() {
    static const std::string name = ianaName(windowsName());
    return name;
}

date::local_time<TimeZone::Ms> TimeZone::toLocal(date::sys_time<Ms> time) const {
    const auto second = date::floor<Seconds>(time);
    const auto info = zoneOf(zone).lookup(cctz::time_point<cctz::seconds>(second.time_since_epoch()));
    return date::local_time<Ms>(time.time_since_epoch() + Seconds(info.offset));
}

date::sys_time<TimeZone::Ms> TimeZone::toUtc(date::local_time<Ms> time) const {
    const auto second = date::floor<Seconds>(time);
    const auto civil = cctz::civil_second(1970, 1, 1) + second.time_since_epoch().count();
    const auto lookup = zoneOf(zone).lookup(civil);
    if (lookup.kind == cctz::time_zone::civil_lookup::SKIPPED)
        return date::sys_time<Ms>(lookup.trans.time_since_epoch());
    return date::sys_time<Ms>(lookup.pre.time_since_epoch()) + (time - second);
}

} // namespace valveladder
