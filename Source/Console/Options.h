#pragma once

#include "Console/Tool.h"

#include <algorithm>
#include <functional>
#include <initializer_list>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace valveladder::console {

template <typename T>
using Choices = std::vector<std::pair<const char*, T>>;

template <typename T>
[[nodiscard]] std::string joinedNames(const Choices<T>& choices, const char* between) {
    std::string names;
    for (const auto& [name, value] : choices)
        names += (names.empty() ? "" : between) + std::string(name);
    return names;
}

/// Says which words an option is known to take, for the shells' completions.
void setChoices(CLI::Option& option, const std::vector<std::string>& words);
/// What setChoices() said; empty where it was not called.
[[nodiscard]] std::vector<std::string> choicesOf(const CLI::Option& option);

/// An option that takes one of a few words.
template <typename T>
CLI::Option* addChoice(CLI::App& app, const std::string& name, std::optional<T>& target,
                       const Choices<T>& choices, const std::string& help) {
    const auto read = [&target, name, choices](const std::string& word) {
        const auto found = std::find_if(choices.begin(), choices.end(),
                                        [&](const auto& choice) { return word == choice.first; });
        if (found == choices.end())
            throw CLI::ValidationError(name, "'" + word + "' is not one of " + joinedNames(choices, ", "));
        target = found->second;
    };
    std::vector<std::string> words;
    for (const auto& choice : choices)
        words.emplace_back(choice.first);
    CLI::Option* option =
        app.add_option_function<std::string>(name, read, help + ": " + joinedNames(choices, ", "));
    setChoices(*option, words);
    return option->option_text("WORD");
}

/// An option whose text `parse` turns into a value, or into nothing when it cannot be read.
template <typename T, typename Parse>
CLI::Option* addParsed(CLI::App& app, const std::string& name, std::optional<T>& target, Parse parse,
                       const std::string& shape, const std::string& help) {
    const auto read = [&target, name, parse, shape](const std::string& text) {
        std::optional<T> value = parse(text);
        if (!value)
            throw CLI::ValidationError(name, "'" + text + "' is not " + shape);
        target = std::move(value);
    };
    return app.add_option_function<std::string>(name, read, help);
}

/// An option that takes a decimal number with a point, whatever the process's locale says.
CLI::Option* addNumber(CLI::App& app, const std::string& name, std::function<void(double)> take,
                       const std::string& help);
template <typename Target> // double or std::optional<double>
CLI::Option* addNumber(CLI::App& app, const std::string& name, Target& target, const std::string& help) {
    return addNumber(app, name, std::function<void(double)>([&target](double value) { target = value; }),
                     help);
}

/// A tempo that `option` was given, or none, lies within minBpm..maxBpm.
[[nodiscard]] Result<Done> checkedTempo(std::optional<double> bpm, const char* option, const char* remedy);

/// `text` without blanks at both ends.
[[nodiscard]] std::string trimmed(const std::string& text);
/// Parts between separators, trimmed; empty ones stay.
[[nodiscard]] std::vector<std::string> split(const std::string& text, char separator);

} // namespace valveladder::console
