#pragma once

#include "Console/Tool.h"
#include "Log/LogStore.h"

#include <optional>
#include <string>

namespace valveladder::console {

/// Which takes of the log are wanted.
struct FilterOptions {
    std::optional<std::string> player, instrumentId, drillName;
    std::string from, to;
    int newest = 0;
    bool noInvented = false;

    void add(CLI::App& app);
    [[nodiscard]] Result<TakeFilter> filter() const;
};

} // namespace valveladder::console
