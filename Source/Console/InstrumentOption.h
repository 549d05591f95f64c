#pragma once

#include "Console/Tool.h"
#include "Valves/Instrument.h"

#include <string>

namespace valveladder::console {

/// "-i ID": an instrument of the catalogue, or a player's own from a JSON file.
struct InstrumentOption {
    std::string given = "trumpet-b-flat";

    CLI::Option* add(CLI::App& app);
    /// The instrument, checked.
    [[nodiscard]] Result<Instrument> find() const;
};

} // namespace valveladder::console
