#pragma once

#include <optional>
#include <string>

namespace valveladder {

/// A file of the time zone database that lies inside the program: "zones/Europe/Berlin" (compiled, RFC 8536),
/// or "windowsZones.xml" (Windows' names for zones). Nothing where there is none of that name.
[[nodiscard]] std::optional<std::string> archivedZoneFile(const std::string& name);

} // namespace valveladder
