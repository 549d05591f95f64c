#pragma once

#include "Tempo/TempoPlan.h"
#include "Tempo/TimeZone.h"

#include <cstdint>
#include <optional>

namespace valveladder {

/// practiceDay() for many takes: the zone is looked up once.
class PracticeCalendar {
public:
    explicit PracticeCalendar(const TempoRules& rules);

    /// As practiceDay().
    [[nodiscard]] std::int64_t day(UtcMs time) const;

private:
    std::optional<TimeZone> zone; ///< nothing: UTC
    int startHour;
};

} // namespace valveladder
