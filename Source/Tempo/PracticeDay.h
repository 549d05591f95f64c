#pragma once

#include "Tempo/TempoPlan.h"
#include "Tempo/TimeZone.h"

#include <cstdint>
#include <optional>
#include <string>

namespace valveladder {

/// Practice days by one set of rules, whose zone is looked up once. Any thread.
class PracticeCalendar {
public:
    explicit PracticeCalendar(const TempoRules& rules);

    /// As practiceDay().
    [[nodiscard]] std::int64_t day(UtcMs time) const;
    /// Of a take that began at `time` where it was `takeZone` (IANA name). The rules' zone decides; where
    /// they name none, the take's own, so that a take is of one day on every machine; where that is empty or
    /// not known here, this machine's.
    [[nodiscard]] std::int64_t dayOfTake(UtcMs time, const std::string& takeZone) const;

private:
    [[nodiscard]] std::int64_t dayIn(const std::optional<TimeZone>& where, UtcMs time) const;

    std::optional<TimeZone> zone; ///< the rules', else this machine's; nothing: UTC
    bool isNamed;                 ///< by the rules
    int startHour;
};

} // namespace valveladder
