#pragma once

#include "Console/Tool.h"

#include <string>
#include <vector>

namespace valveladder::console {

/// An option or argument of a command, in the words of its --help.
struct OptionText {
    std::vector<std::string> names;   ///< "-o", "--output"; of an argument its one name, without hyphens
    std::string value;                ///< what stands for its value, e.g. "FILE"; "" = a flag, or an argument
    std::vector<std::string> choices; ///< the words it is known to take
    std::string description;
    std::string group;
    bool takesValue = false;
};

/// A command as its --help tells it, with all below it: what the manual and the shells' completions are made
/// of, so that none of them can say anything else.
struct CommandText {
    std::string path; ///< "valve-ladder log merge"
    std::string name; ///< "merge"
    std::string usage;
    std::string summary; ///< the first line
    std::string more;    ///< what follows it; lines are as long as they were written
    std::string footer;
    std::vector<OptionText> arguments;
    std::vector<OptionText> options; ///< its own; those of the commands above it are theirs
    std::vector<CommandText> commands;
};

/// `app` must be whole: its commands, options and footers all added.
[[nodiscard]] CommandText commandText(const CLI::App& app);

/// The command, then all below it, each before its own, in the order of --help.
[[nodiscard]] std::vector<const CommandText*> everyCommand(const CommandText& top);
/// What stands behind the program's name in `path`: "log merge"; "" of the program itself.
[[nodiscard]] std::string wordsOf(const CommandText& command);

} // namespace valveladder::console
