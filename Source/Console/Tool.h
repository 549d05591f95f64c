#pragma once

#include "Base/Problem.h"

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <functional>
#include <string>
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

    /// To standard output, human text.
    template <typename... Parts>
    void print(fmt::format_string<Parts...> format, Parts&&... parts) {
        fmt::format_to(std::back_inserter(text), format, std::forward<Parts>(parts)...);
    }
    void printText(const std::string& ready) { text += ready; }
    /// To standard output, one JSON value. Bytes that are not UTF-8 become U+FFFD.
    void printJson(const Json& value) {
        text += value.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
    }
    /// To standard error, once the job is done: what the player should know and a program need not.
    void warn(std::string line) { warnings.push_back(std::move(line)); }

    [[nodiscard]] const std::string& printed() const { return text; }
    [[nodiscard]] const std::vector<std::string>& warned() const { return warnings; }

private:
    std::string text;
    std::vector<std::string> warnings;
};

} // namespace valveladder::console
