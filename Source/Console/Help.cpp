#include "Console/Help.h"

namespace valveladder::console {

namespace {

constexpr std::size_t nameColumns = 26;

std::string entry(const std::string& name, const std::string& description) {
    const std::string lines = wrapped(description, textWidth - nameColumns);
    std::string text = "  " + name;
    if (text.size() + 1 > nameColumns)
        text += "\n" + std::string(nameColumns, ' ');
    else
        text.append(nameColumns - text.size(), ' ');
    for (const char c : lines) {
        text += c;
        if (c == '\n')
            text.append(nameColumns, ' ');
    }
    return text + "\n";
}

} // namespace

std::string wrapped(std::string_view text, std::size_t width) {
    std::string result;
    std::size_t column = 0;
    while (!text.empty()) {
        if (text.front() == '\n') {
            result += '\n';
            column = 0;
            text.remove_prefix(1);
            continue;
        }
        const std::size_t spaces = std::min(text.find_first_not_of(' '), text.size());
        const std::size_t end = std::min(text.find_first_of(" \n", spaces), text.size());
        const std::string_view word = text.substr(spaces, end - spaces);
        if (column > 0 && column + spaces + word.size() > width) {
            result += '\n';
            column = 0;
        } else {
            result.append(spaces, ' ');
            column += spaces;
        }
        result += word;
        column += word.size();
        text.remove_prefix(end);
    }
    return result;
}

HelpFormatter::HelpFormatter() {
    label("SUBCOMMAND", "COMMAND");
    label("Positionals", "What it works on");
}

std::string HelpFormatter::make_help(const CLI::App* app, std::string name, CLI::AppFormatMode mode) const {
    // The library puts two blank lines between groups, and ends with one where there is no footer.
    std::string text = CLI::detail::find_and_replace(CLI::Formatter::make_help(app, std::move(name), mode),
                                                     "\n\n\n", "\n\n");
    return text.ends_with("\n\n") ? text.substr(0, text.size() - 1) : text;
}

std::string HelpFormatter::make_description(const CLI::App* app) const {
    return wrapped(app->get_description(), textWidth) + "\n\n";
}

std::string HelpFormatter::make_option(const CLI::Option* option, bool isPositional) const {
    return entry(make_option_name(option, isPositional) + make_option_opts(option),
                 option->get_description());
}

std::string HelpFormatter::make_option_opts(const CLI::Option* option) const {
    return option->get_option_text().empty() ? "" : " " + option->get_option_text();
}

std::string HelpFormatter::make_subcommand(const CLI::App* sub) const {
    const std::string description = sub->get_description();
    return entry(sub->get_name(), description.substr(0, description.find('\n')));
}

} // namespace valveladder::console
