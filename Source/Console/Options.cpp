#include "Console/Options.h"

#include <charconv>

namespace valveladder::console {

namespace {

template <typename T>
std::optional<T> parseNumber(const std::string& text) {
    T value{};
    const char* end = text.data() + text.size();
    const auto [stopped, error] = std::from_chars(text.data(), end, value);
    if (error != std::errc() || stopped != end)
        return std::nullopt;
    return value;
}

} // namespace

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

std::optional<int> parseInt(const std::string& text) {
    return parseNumber<int>(text);
}

std::optional<double> parseDouble(const std::string& text) {
    return parseNumber<double>(text);
}

} // namespace valveladder::console
