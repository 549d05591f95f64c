#pragma once

#include "Console/CommandText.h"

#include <string>

namespace valveladder::console {

// What the shells offer behind the program's name: commands, options, the words that an option takes, and
// files where one is asked for.

/// To be sourced by bash 4 or later, or put where bash-completion looks.
[[nodiscard]] std::string bashCompletions(const CommandText& program);
/// An autoloaded function of zsh 5: "_valve-ladder" in a folder of $fpath.
[[nodiscard]] std::string zshCompletions(const CommandText& program);
/// For fish 3: "valve-ladder.fish" in a folder of $fish_complete_path.
[[nodiscard]] std::string fishCompletions(const CommandText& program);

} // namespace valveladder::console
