#pragma once

#include "Base/Problem.h"
#include "Console/Printable.h"

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <functional>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

namespace valveladder::console {

/// Members stay in the order in which they were set, so that what is printed reads well.
using Json = nlohmann::ordered_json;

/// Exit codes, promised in --help.
enum class Exit : int { done = 0, problem = 1, wrongUse = 2 };

/// What the commands share: the command line is read first, then the one job that it asked for runs, then
/// what it printed is written. Nothing is printed while a job can still fail.
class Tool {
public:
    bool json = false; ///< for programs

    /// Set by the command's callback.
    std::function<Result<Done>()> job;

    /// Every value that the command line gave.
    std::vector<std::string> given;
    /// Options for which an empty value means something.
    std::vector<const CLI::Option*> mayBeEmpty;

    /// To standard output, human text. Words that are put in stay on one line, without control characters.
    template <typename... Parts>
    void print(fmt::format_string<Parts...> format, Parts&&... parts) {
        append(format, shown(parts)...);
    }
    /// Lines of human text.
    void printText(const std::string& ready) { text += printable(ready); }
    /// As they are: the content of a file.
    void printBytes(const std::string& bytes) { text += bytes; }
    /// To standard output, one JSON value. Bytes that are not UTF-8 become U+FFFD.
    void printJson(const Json& value) {
        text += value.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
    }
    /// To standard error, once the job is done: what the player should know and a program need not.
    void warn(std::string line) { warnings.push_back(std::move(line)); }

    [[nodiscard]] const std::string& printed() const { return text; }
    [[nodiscard]] const std::vector<std::string>& warned() const { return warnings; }

private:
    template <typename Part>
    static decltype(auto) shown(const Part& part) {
        if constexpr (std::is_convertible_v<const Part&, std::string_view>)
            return oneLine(part);
        else
            return (part);
    }
    template <typename... Parts>
    void append(fmt::string_view format, const Parts&... parts) {
        fmt::vformat_to(std::back_inserter(text), format, fmt::make_format_args(parts...));
    }

    std::string text;
    std::vector<std::string> warnings;
};

} // namespace valveladder::console
