#pragma once

#include "Base/Problem.h"
#include "Tempo/TempoPlan.h"

#include <optional>
#include <string>

namespace valveladder::console {

/// "2026-03-28", "2026-03-28T17:00", "2026-03-28T17:00:05", in `zone`'s local time, or UTC where a Z follows.
/// A time that summer time skips counts as the moment it was skipped at; of a repeated hour the first is
/// meant. `zone` "" = this machine's.
[[nodiscard]] Result<UtcMs> parseTime(const std::string& text, const std::string& zone);

/// What --from and --to name, in this machine's local time: times as parseTime() takes them, "" leaves its
/// end of the span as it is.
[[nodiscard]] Result<Done> readSpan(const std::string& from, const std::string& to,
                                    std::optional<UtcMs>& fromUtc, std::optional<UtcMs>& toUtc);

/// "2026-03-28 17:00" in `zone`; in UTC with a Z where the zone is not known.
[[nodiscard]] std::string localText(UtcMs time, const std::string& zone);

/// "2026-03-28T16:00:00.000Z", ISO 8601.
[[nodiscard]] std::string isoText(UtcMs time);

} // namespace valveladder::console
