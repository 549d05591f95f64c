#pragma once

#include "Console/LogOptions.h"
#include "Console/Tool.h"
#include "Log/LogStore.h"

#include <optional>
#include <string>

namespace valveladder::console {

/// A log, and which of its takes are wanted.
struct FilteredLog {
    TakeFilter filter;
    std::unique_ptr<LogStore> store; ///< never null
};

/// Which takes of the log are wanted.
struct FilterOptions {
    std::optional<std::string> player, instrumentId, drillName;
    std::string from, to;
    int newest = 0;
    bool noInvented = false;

    void add(CLI::App& app);
    /// The log that is there, for reading alone, and what is wanted of it; a Problem where either is at
    /// fault.
    [[nodiscard]] Result<FilteredLog> openToRead(const LogOptions& log) const;
};

} // namespace valveladder::console
