#include "Console/CommandLine.h"

#include "Base/Sentence.h"

#include <algorithm>
#include <sstream>

namespace valveladder::console {

namespace {

bool isBlank(const std::string& value) {
    return value.find_first_not_of(" \t\r\n") == std::string::npos;
}

const CLI::App& innermost(const CLI::App& app) {
    const auto given = app.get_subcommands();
    return given.empty() ? app : innermost(*given.front());
}

/// The first example of a command's help; "" where it has none.
std::string exampleOf(const CLI::App& command) {
    std::istringstream lines(command.get_footer());
    for (std::string line; std::getline(lines, line);)
        if (line.starts_with("  valve-ladder "))
            return line.substr(2);
    return "";
}

std::string nameOf(const CLI::Option& option) {
    return option.get_positional() ? option.get_name(true) : option.get_name();
}

/// What the command needs and was not given.
std::string lackOf(const CLI::App& command) {
    std::vector<std::string> words;
    if (command.get_require_subcommand_min() > 0) {
        for (const CLI::App* sub : command.get_subcommands({}))
            words.push_back(sub->get_name());
        return "one of " + joined(words);
    }
    for (const CLI::Option* option : command.get_options())
        if (option->get_required() && option->count() == 0)
            words.push_back(nameOf(*option));
    return joined(words);
}

void collectValues(const CLI::App& app, std::vector<std::string>& values) {
    for (const CLI::Option* option : app.get_options())
        for (const std::string& value : option->results())
            values.push_back(value);
    for (const CLI::App* given : app.get_subcommands())
        collectValues(*given, values);
}

} // namespace

void refuseEmptyValues(const CLI::App& app, const Tool& tool) {
    for (const CLI::Option* option : app.get_options()) {
        const auto& values = option->results();
        const bool mayBe = std::ranges::find(tool.mayBeEmpty, option) != tool.mayBeEmpty.end();
        if (!mayBe && std::ranges::any_of(values, isBlank))
            throw CLI::ValidationError(nameOf(*option), "the value is empty: give one, or leave it out");
    }
    for (const CLI::App* given : app.get_subcommands())
        refuseEmptyValues(*given, tool);
}

std::vector<std::string> valuesGiven(const CLI::App& app) {
    std::vector<std::string> values;
    collectValues(app, values);
    return values;
}

std::string commandGiven(const CLI::App& app) {
    std::string name = app.get_name();
    for (const CLI::App* given : app.get_subcommands())
        name += " " + commandGiven(*given);
    return name;
}

Problem wrongUse(const CLI::App& app, const CLI::ParseError& error) {
    const CLI::App& command = innermost(app);
    const std::string name = commandGiven(app);
    const std::string example = exampleOf(command);
    std::string remedy = "Wrong use; see '" + name + " --help'";
    if (!example.empty())
        remedy = "For example: " + example + ". More: '" + name + " --help'";
    const std::string lack = lackOf(command);
    if (error.get_name() == "RequiredError" && !lack.empty())
        return {"'" + name + "' needs " + lack, "", remedy};
    return {error.what(), "", remedy};
}

} // namespace valveladder::console
