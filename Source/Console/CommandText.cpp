#include "Console/CommandText.h"

#include "Console/Options.h"

namespace valveladder::console {

namespace {

std::vector<std::string> namesOf(const CLI::Option& option) {
    if (option.get_positional())
        return {option.get_name(true)};
    std::vector<std::string> names;
    for (const std::string& name : option.get_snames())
        names.push_back("-" + name);
    for (const std::string& name : option.get_lnames())
        names.push_back("--" + name);
    return names;
}

OptionText optionText(const CLI::Option& option) {
    OptionText text;
    text.names = namesOf(option);
    text.takesValue = option.get_items_expected_max() > 0;
    text.value = option.get_positional() ? "" : option.get_option_text();
    text.choices = choicesOf(option);
    text.description = option.get_description();
    text.group = option.get_group();
    return text;
}

std::string usageOf(const CLI::App& app, const std::string& path) {
    std::string usage = path + " [OPTIONS]";
    for (const CLI::Option* option : app.get_options())
        if (option->get_positional()) {
            std::string name = option->get_name(true);
            if (option->get_expected_max() > 1)
                name += "...";
            usage += option->get_required() ? " " + name : " [" + name + "]";
        }
    return app.get_require_subcommand_min() > 0 ? usage + " COMMAND" : usage;
}

CommandText textUnder(const CLI::App& app, const std::string& above) {
    CommandText text;
    text.name = app.get_name();
    text.path = above.empty() ? text.name : above + " " + text.name;
    text.usage = usageOf(app, text.path);
    const std::string description = app.get_description();
    const std::size_t line = std::min(description.find('\n'), description.size());
    text.summary = description.substr(0, line);
    text.more = description.substr(std::min(description.find_first_not_of('\n', line), description.size()));
    text.footer = app.get_footer();
    for (const CLI::Option* option : app.get_options())
        (option->get_positional() ? text.arguments : text.options).push_back(optionText(*option));
    for (const CLI::App* sub : app.get_subcommands({}))
        text.commands.push_back(textUnder(*sub, text.path));
    return text;
}

void collect(const CommandText& command, std::vector<const CommandText*>& all) {
    all.push_back(&command);
    for (const CommandText& below : command.commands)
        collect(below, all);
}

} // namespace

CommandText commandText(const CLI::App& app) {
    return textUnder(app, "");
}

std::vector<const CommandText*> everyCommand(const CommandText& top) {
    std::vector<const CommandText*> all;
    collect(top, all);
    return all;
}

std::string wordsOf(const CommandText& command) {
    const std::size_t space = command.path.find(' ');
    return space == std::string::npos ? "" : command.path.substr(space + 1);
}

} // namespace valveladder::console
