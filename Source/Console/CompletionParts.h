#pragma once

#include "Console/CommandText.h"

#include <string>
#include <vector>

namespace valveladder::console {

// What the completions of all shells are put together from.

/// In single quotes, as bash, zsh and (without quotes and backslashes inside) fish read them.
[[nodiscard]] std::string quoted(const std::string& text);
/// What a shell shows beside a word.
[[nodiscard]] std::string oneLineOf(std::string text);

/// A command's own options and those that every command takes.
[[nodiscard]] std::vector<OptionText> optionsAt(const CommandText& program, const CommandText& command);
[[nodiscard]] bool takesFolder(const OptionText& option);
/// A file, or a folder.
[[nodiscard]] bool takesFile(const OptionText& option);

/// Every command below the program, as patterns of a case statement on the command above and the next word:
/// "'/log'|'log/merge'", with `between` between them.
[[nodiscard]] std::string stepsToCommands(const CommandText& program, const char* between);
/// An option's names at a command, as patterns of a case statement: "'log merge/-x'|'log merge/--log'".
[[nodiscard]] std::string patternOf(const CommandText& command, const OptionText& option);

} // namespace valveladder::console
