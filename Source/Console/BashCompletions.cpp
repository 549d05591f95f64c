#include "Base/Sentence.h"
#include "Console/CompletionParts.h"
#include "Console/Completions.h"

#include <algorithm>

namespace valveladder::console {

namespace {

std::string bashValues(const CommandText& program) {
    std::string text;
    for (const CommandText* command : everyCommand(program))
        for (const OptionText& option : optionsAt(program, *command)) {
            if (!option.takesValue)
                continue;
            std::string offer = ":"; // a number or a name, of which the shell knows nothing
            if (!option.choices.empty())
                offer = "words=" + quoted(joined(option.choices, " "));
            else if (takesFolder(option))
                offer = "files=-d";
            else if (takesFile(option))
                offer = "files=-f";
            text += "        " + patternOf(*command, option) + ") " + offer + " ;;\n";
        }
    return text;
}

std::string bashWords(const CommandText& program) {
    std::string text;
    for (const CommandText* command : everyCommand(program)) {
        std::vector<std::string> options;
        std::vector<std::string> others;
        for (const OptionText& option : optionsAt(program, *command))
            options.insert(options.end(), option.names.begin(), option.names.end());
        for (const CommandText& below : command->commands)
            others.push_back(below.name);
        for (const OptionText& argument : command->arguments)
            others.insert(others.end(), argument.choices.begin(), argument.choices.end());
        const bool files =
            std::ranges::any_of(command->arguments, [](const auto& one) { return one.choices.empty(); });
        text += "        " + quoted(wordsOf(*command)) + ") options=" + quoted(joined(options, " ")) +
                " words=" + quoted(joined(others, " ")) + (files ? " files=-f" : "") + " ;;\n";
    }
    return text;
}

} // namespace

std::string bashCompletions(const CommandText& program) {
    return "# bash completion for " + program.name + ", as '" + program.name + R"( completions bash' writes it
_valve_ladder() {
    local current=${COMP_WORDS[COMP_CWORD]} previous=${COMP_WORDS[COMP_CWORD - 1]}
    local command='' word options='' words='' files=''
    for word in "${COMP_WORDS[@]:1:COMP_CWORD-1}"; do
        case "$command/$word" in
        )" +
           stepsToCommands(program, "|") +
           R"() command="${command:+$command }$word" ;;
        esac
    done
    case "$command/$previous" in
)" + bashValues(program) +
           R"(        *) case "$command" in
)" + bashWords(program) +
           R"(        esac
        [[ $current == -* ]] && words=$options files=''
        ;;
    esac
    COMPREPLY=($(compgen -W "$words" -- "$current"))
    if [[ -n $files ]]; then
        compopt -o filenames 2>/dev/null
        local file
        while IFS= read -r file; do COMPREPLY+=("$file"); done < <(compgen "$files" -- "$current")
    fi
}
complete -F _valve_ladder )" +
           program.name + "\n";
}

} // namespace valveladder::console
