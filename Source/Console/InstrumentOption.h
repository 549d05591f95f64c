#pragma once

#include "Console/Tool.h"
#include "Valves/Instrument.h"

#include <string>
#include <vector>

namespace valveladder::console {

/// Of the catalogue, in its order.
[[nodiscard]] std::vector<std::string> instrumentIds();

/// "-i ID": an instrument of the catalogue, or a player's own from a JSON file.
struct InstrumentOption {
    std::string given = "trumpet-b-flat";

    CLI::Option* add(CLI::App& app);
    /// The instrument, checked.
    [[nodiscard]] Result<Instrument> find() const;
};

} // namespace valveladder::console
