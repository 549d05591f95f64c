#pragma once

#include <chrono>
#include <date/date.h>
#include <memory>
#include <optional>
#include <string>

namespace valveladder {

/// A zone of the IANA time zone database: as the system has it, or as it lies inside the program where the
/// system has none (Windows). One source a system: TimeZone<name>.cpp.
class TimeZone {
public:
    using Ms = std::chrono::milliseconds;

    /// Nothing where the database does not know the name, or its file is broken. An earlier answer for a name
    /// is kept for the program's life.
    [[nodiscard]] static std::optional<TimeZone> find(const std::string& name);
    /// The name of the zone that this machine's clock is set to; "" where the system does not say.
    [[nodiscard]] static std::string nameOnThisMachine();

    [[nodiscard]] date::local_time<Ms> toLocal(date::sys_time<Ms> time) const;
    /// The earlier one where the clock shows that time twice, the change itself where it leaves that time
    /// out.
    [[nodiscard]] date::sys_time<Ms> toUtc(date::local_time<Ms> time) const;

private:
    explicit TimeZone(const void* found) : zone(found) {}

    const void* zone; ///< of the library that reads the database, which keeps it
};

} // namespace valveladder
