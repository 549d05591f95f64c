#include "Console/CompletionParts.h"

#include "Base/Sentence.h"

#include <algorithm>

namespace valveladder::console {

std::string quoted(const std::string& text) {
    std::string result = "'";
    for (const char c : text)
        result += c == '\'' ? std::string("'\\''") : std::string(1, c);
    return result + "'";
}

std::string oneLineOf(std::string text) {
    std::replace(text.begin(), text.end(), '\n', ' ');
    return text;
}

std::vector<OptionText> optionsAt(const CommandText& program, const CommandText& command) {
    std::vector<OptionText> options = command.options;
    if (&command != &program)
        for (const OptionText& option : program.options)
            if (option.names.back() == "--json")
                options.push_back(option);
    return options;
}

bool takesFolder(const OptionText& option) {
    return option.value == "FOLDER";
}

bool takesFile(const OptionText& option) {
    return option.value == "FILE" || takesFolder(option);
}

std::string stepsToCommands(const CommandText& program, const char* between) {
    std::vector<std::string> steps;
    for (const CommandText* command : everyCommand(program))
        if (command != &program) {
            const std::string words = wordsOf(*command);
            const std::size_t last = words.rfind(' ');
            steps.push_back(quoted(last == std::string::npos
                                       ? "/" + words
                                       : words.substr(0, last) + "/" + words.substr(last + 1)));
        }
    return joined(steps, between);
}

std::string patternOf(const CommandText& command, const OptionText& option) {
    std::vector<std::string> patterns;
    for (const std::string& name : option.names)
        patterns.push_back(quoted(wordsOf(command) + "/" + name));
    return joined(patterns, "|");
}

} // namespace valveladder::console
