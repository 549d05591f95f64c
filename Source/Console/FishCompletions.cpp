#include "Base/Sentence.h"
#include "Console/CompletionParts.h"
#include "Console/Completions.h"

namespace valveladder::console {

namespace {

/// In single quotes, as fish reads them.
std::string quotedForFish(const std::string& text) {
    std::string result = "'";
    for (const char c : text)
        result += (c == '\'' || c == '\\' ? "\\" : "") + std::string(1, c);
    return result + "'";
}

std::string fishOption(const std::string& at, const OptionText& option) {
    std::string text = at;
    for (const std::string& name : option.names)
        text += name.starts_with("--") ? " -l " + name.substr(2) : " -s " + name.substr(1);
    if (option.takesValue)
        text += takesFile(option) && option.choices.empty() ? " -r -F" : " -x";
    if (!option.choices.empty())
        text += " -a " + quotedForFish(joined(option.choices, " "));
    return text + " -d " + quotedForFish(oneLineOf(option.description)) + "\n";
}

std::string fishCommand(const CommandText& program, const CommandText& command) {
    const std::string start = "complete -c " + program.name + " -n " +
                              quotedForFish("__valve_ladder_at " + quotedForFish(wordsOf(command)));
    std::string text;
    for (const OptionText& option : optionsAt(program, command))
        text += fishOption(start, option);
    for (const CommandText& below : command.commands)
        text += start + " -a " + below.name + " -d " + quotedForFish(oneLineOf(below.summary)) + "\n";
    for (const OptionText& argument : command.arguments)
        text += argument.choices.empty() ? start + " -F\n"
                                         : start + " -a " + quotedForFish(joined(argument.choices, " ")) +
                                               " -d " + quotedForFish(oneLineOf(argument.description)) + "\n";
    return text;
}

} // namespace

std::string fishCompletions(const CommandText& program) {
    std::string text = "# fish completion for " + program.name + ", as '" + program.name +
                       R"( completions fish' writes it
function __valve_ladder_at
    set -l at
    for word in (commandline -opc)[2..-1]
        switch "$at/$word"
            case )" + stepsToCommands(program, " ") +
                       R"(
                set at (string trim -- "$at $word")
        end
    end
    test "$at" = "$argv"
end
complete -c )" + program.name +
                       " -f\n";
    for (const CommandText* command : everyCommand(program))
        text += fishCommand(program, *command);
    return text;
}

} // namespace valveladder::console
