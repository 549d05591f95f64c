#pragma once

#include "Tempo/TempoPlan.h"

#include <cstdint>

namespace date {
class time_zone;
}

namespace valveladder {

/// practiceDay() for many takes: the zone is looked up once.
class PracticeCalendar {
public:
    explicit PracticeCalendar(const TempoRules& rules);

    /// As practiceDay().
    [[nodiscard]] std::int64_t day(UtcMs time) const;

private:
    const date::time_zone* zone; ///< null: UTC. Owned by the date library for the program's life
    int startHour;
};

} // namespace valveladder
