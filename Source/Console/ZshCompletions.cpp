#include "Console/CompletionParts.h"
#include "Console/Completions.h"

namespace valveladder::console {

namespace {

std::string zshValues(const CommandText& program) {
    std::string text;
    for (const CommandText* command : everyCommand(program))
        for (const OptionText& option : optionsAt(program, *command)) {
            if (!option.takesValue)
                continue;
            std::string offer = "_message " + quoted(oneLineOf(option.description));
            if (!option.choices.empty()) {
                offer = "compadd --";
                for (const std::string& choice : option.choices)
                    offer += " " + quoted(choice);
            } else if (takesFile(option)) {
                offer = takesFolder(option) ? "_files -/" : "_files";
            }
            text += "        (" + patternOf(*command, option) + ") " + offer + "; return ;;\n";
        }
    return text;
}

/// "name:what it is", as _describe splits it.
std::string described(const std::string& name, const std::string& description) {
    std::string text;
    for (const char c : name)
        text += (c == ':' ? "\\" : "") + std::string(1, c);
    return quoted(text + ":" + oneLineOf(description));
}

std::string zshWords(const CommandText& program) {
    std::string text;
    for (const CommandText* command : everyCommand(program)) {
        std::string options;
        std::string others;
        bool files = false;
        for (const OptionText& option : optionsAt(program, *command))
            for (const std::string& name : option.names)
                options += "\n                " + described(name, option.description);
        for (const CommandText& below : command->commands)
            others += "\n                " + described(below.name, below.summary);
        for (const OptionText& argument : command->arguments) {
            files = files || argument.choices.empty();
            for (const std::string& choice : argument.choices)
                others += "\n                " + described(choice, argument.description);
        }
        text += "        (" + quoted(wordsOf(*command)) + ")\n            options=(" + options +
                ")\n            others=(" + others + ")" + (files ? "\n            files=1" : "") + " ;;\n";
    }
    return text;
}

} // namespace

std::string zshCompletions(const CommandText& program) {
    return "#compdef " + program.name + "\n# zsh completion, as '" + program.name +
           R"( completions zsh' writes it
_valve-ladder() {
    local command='' word files=''
    local -a options others
    for word in "${(@)words[2,CURRENT-1]}"; do
        case "$command/$word" in
        ()" +
           stepsToCommands(program, "|") +
           R"() command="${command:+$command }$word" ;;
        esac
    done
    case "$command/$words[CURRENT-1]" in
)" + zshValues(program) +
           R"(    esac
    case "$command" in
)" + zshWords(program) +
           R"(    esac
    if [[ $PREFIX == -* ]]; then
        _describe -o 'option' options
    else
        (( $#others )) && _describe 'word' others
        [[ -n $files ]] && _files
    fi
}
_valve-ladder "$@"
)";
}

} // namespace valveladder::console
