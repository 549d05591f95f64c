#pragma once

#include "Log/LogStore.h"
#include "Session/SessionView.h"

#include <optional>
#include <string>

namespace valveladder {

/// What is known of the round trip of the sound device or host in use: measured now or before, as the log
/// remembers, or set by hand, which leads. [worker]
class DeviceDelay {
public:
    /// Another device: what was known of the one before no longer holds. False where it is the same.
    bool use(const std::string& device);
    /// Looks it up in the log, once a device; `store` may be null while the log is in trouble.
    [[nodiscard]] std::optional<Problem> read(const LogStore* store);
    void measured(double ms) { measuredMs = ms; }
    [[nodiscard]] const std::string& device() const { return name; }

    [[nodiscard]] RoundTrip roundTrip(const std::optional<double>& byHandMs) const;

private:
    std::string name;
    bool lookedUp = true;
    std::optional<double> measuredMs;
};

} // namespace valveladder
