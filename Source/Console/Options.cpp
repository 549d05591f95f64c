#include "Console/Options.h"

#include "Base/Number.h"
#include "Tempo/TempoMap.h"

namespace valveladder::console {

// They travel as the option's type, which our help does not show.

void setChoices(CLI::Option& option, const std::vector<std::string>& words) {
    std::string type = "{";
    for (const std::string& word : words)
        type += (type.size() == 1 ? "" : ",") + word;
    option.type_name(type + "}");
}

std::vector<std::string> choicesOf(const CLI::Option& option) {
    const std::string type = option.get_type_name();
    if (!type.starts_with('{') || !type.ends_with('}'))
        return {};
    return split(type.substr(1, type.size() - 2), ',');
}

CLI::Option* addNumber(CLI::App& app, const std::string& name, std::function<void(double)> take,
                       const std::string& help) {
    const auto read = [name, take = std::move(take)](const std::string& text) {
        const auto value = decimalIn(trimmed(text));
        if (!value)
            throw CLI::ValidationError(name, "'" + text + "' is not a number such as 66.5");
        take(*value);
    };
    return app.add_option_function<std::string>(name, read, help);
}

Result<Done> checkedTempo(std::optional<double> bpm, const char* option, const char* remedy) {
    if (!bpm || (*bpm >= minBpm && *bpm <= maxBpm))
        return Done{};
    return Problem{fmt::format("{:g} bpm is outside {:g} to {:g}", *bpm, minBpm, maxBpm), option, remedy};
}

std::string trimmed(const std::string& text) {
    const std::size_t first = text.find_first_not_of(" \t");
    if (first == std::string::npos)
        return {};
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

std::vector<std::string> split(const std::string& text, char separator) {
    std::vector<std::string> parts;
    std::size_t from = 0;
    for (std::size_t at = text.find(separator); at != std::string::npos; at = text.find(separator, from)) {
        parts.push_back(trimmed(text.substr(from, at - from)));
        from = at + 1;
    }
    parts.push_back(trimmed(text.substr(from)));
    return parts;
}

} // namespace valveladder::console
