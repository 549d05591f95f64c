#pragma once

#include "Console/Tool.h"

#include <string>
#include <string_view>

namespace valveladder::console {

/// Columns of a plain terminal.
inline constexpr std::size_t textWidth = 80;

/// Breaks at spaces so that no line is longer than `width`; line breaks in `text` stay. Words longer than
/// `width` are left whole.
[[nodiscard]] std::string wrapped(std::string_view text, std::size_t width);

/// Help within textWidth columns.
class HelpFormatter : public CLI::Formatter {
public:
    HelpFormatter();

    std::string make_help(const CLI::App* app, std::string name, CLI::AppFormatMode mode) const override;
    std::string make_description(const CLI::App* app) const override;
    std::string make_option(const CLI::Option* option, bool isPositional) const override;
    std::string make_option_opts(const CLI::Option* option) const override;
    std::string make_subcommand(const CLI::App* sub) const override;
};

} // namespace valveladder::console
