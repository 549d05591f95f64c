#include "Console/ManualPage.h"

#include "Base/Sentence.h"

#include <sstream>
#include <string_view>

namespace valveladder::console {

namespace {

/// Text as roff takes it: backslashes and hyphens escaped, no line that looks like a request.
std::string roff(std::string_view text) {
    std::string result;
    for (const char c : text) {
        if ((c == '.' || c == '\'') && (result.empty() || result.back() == '\n'))
            result += "\\&";
        if (c == '\\')
            result += "\\e";
        else if (c == '-')
            result += "\\-";
        else
            result += c;
    }
    return result;
}

std::string capitals(std::string text) {
    for (char& c : text)
        if (c >= 'a' && c <= 'z')
            c = static_cast<char>(c - 'a' + 'A');
    return text;
}

std::string joinedNames(const OptionText& option) {
    std::vector<std::string> bold;
    for (const std::string& name : option.names)
        bold.push_back("\\fB" + roff(name) + "\\fR");
    const std::string names = joined(bold);
    return option.value.empty() ? names : names + " \\fI" + roff(option.value) + "\\fR";
}

/// Paragraphs; lines that begin with blanks stand as they are, as examples.
std::string paragraphs(const std::string& text) {
    std::string result;
    bool asTheyAre = false;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
        const bool example = line.starts_with("  ");
        if (example != asTheyAre)
            result += example ? ".nf\n" : ".fi\n";
        asTheyAre = example;
        result += line.empty() ? ".PP\n" : roff(line) + "\n";
    }
    return asTheyAre ? result + ".fi\n" : result;
}

std::string entries(const std::vector<OptionText>& options) {
    std::string text;
    std::string group;
    for (const OptionText& option : options) {
        if (option.group != group && option.group != "Options" && option.group != "Positionals")
            text += ".PP\n" + roff(option.group) + ":\n";
        group = option.group;
        text += ".TP\n" + joinedNames(option) + "\n" + roff(option.description) + "\n";
    }
    return text;
}

/// A program's own option that every command takes is told once, at the top.
std::vector<OptionText> withoutHelp(std::vector<OptionText> options) {
    std::erase_if(options, [](const OptionText& option) { return option.names.back() == "--help"; });
    return options;
}

std::string section(const CommandText& command) {
    std::string text = ".SS " + roff(wordsOf(command)) + "\n";
    text += "\\fB" + roff(command.usage) + "\\fR\n.PP\n" + roff(command.summary) + ".\n";
    if (!command.more.empty())
        text += ".PP\n" + paragraphs(command.more);
    text += entries(command.arguments) + entries(withoutHelp(command.options));
    if (!command.footer.empty())
        text += ".PP\n" + paragraphs(command.footer);
    return text;
}

} // namespace

std::string manualPage(const CommandText& program, const std::string& version) {
    const std::size_t colon = std::min(program.summary.find(':'), program.summary.size());
    std::string page = ".TH " + capitals(program.name) + " 1 \"\" \"Valve Ladder " + version +
                       "\" \"User Commands\"\n.nh\n.ad l\n";
    page += ".SH NAME\n" + roff(program.name) + " \\- " + roff(program.summary.substr(0, colon)) + "\n";
    page += ".SH SYNOPSIS\n\\fB" + roff(program.usage) + "\\fR\n";
    page += ".SH DESCRIPTION\n" + paragraphs(program.summary + "\n" + program.more);
    page += ".SH OPTIONS\nEvery command takes these.\n" + entries(program.options);
    page += ".SH COMMANDS\n";
    for (const CommandText* command : everyCommand(program))
        if (command != &program)
            page += section(*command);
    return page + ".SH NOTES\n" + paragraphs(program.footer);
}

} // namespace valveladder::console
