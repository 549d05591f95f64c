#pragma once

#include "Console/Tool.h"

namespace valveladder::console {

// What every command line is held to, whatever its command.

/// Throws a CLI::ValidationError for a value that is empty or blank, where the option has a use for none.
void refuseEmptyValues(const CLI::App& app, const Tool& tool);
/// Every value that was given, of all options and arguments.
[[nodiscard]] std::vector<std::string> valuesGiven(const CLI::App& app);

/// The innermost command that was given: "valve-ladder log merge".
[[nodiscard]] std::string commandGiven(const CLI::App& app);
/// What a command line that cannot be understood lacks or has too much, with an example that works.
[[nodiscard]] Problem wrongUse(const CLI::App& app, const CLI::ParseError& error);

} // namespace valveladder::console
