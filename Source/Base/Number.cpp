#include "Base/Number.h"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace valveladder {

namespace {

template <typename T>
struct Parsed {
    T value{};
    std::string_view rest;
};

template <typename T>
std::optional<Parsed<T>> parsed(std::string_view text) {
    Parsed<T> found;
    const char* end = text.data() + text.size();
    const auto [stopped, error] = std::from_chars(text.data(), end, found.value);
    if (error != std::errc())
        return std::nullopt;
    found.rest = text.substr(static_cast<std::size_t>(stopped - text.data()));
    return found;
}

template <typename T>
std::optional<T> wholeText(std::string_view text) {
    const auto found = parsed<T>(text);
    return found && found->rest.empty() ? std::optional(found->value) : std::nullopt;
}

std::string_view withoutLead(std::string_view text) {
    text.remove_prefix(std::min(text.find_first_not_of(" \t\r\n"), text.size()));
    if (text.size() > 1 && text.front() == '+' && text[1] != '-')
        text.remove_prefix(1);
    return text;
}

} // namespace

std::optional<double> decimalIn(std::string_view text) {
    return wholeText<double>(text);
}

std::optional<int> integerIn(std::string_view text) {
    return wholeText<int>(text);
}

std::optional<double> leadingDecimal(std::string_view text) {
    const auto found = parsed<double>(withoutLead(text));
    return found && std::isfinite(found->value) ? std::optional(found->value) : std::nullopt;
}

std::optional<int> takeInteger(std::string_view& text) {
    const auto found = parsed<int>(withoutLead(text));
    if (!found)
        return std::nullopt;
    text = found->rest;
    return found->value;
}

} // namespace valveladder
