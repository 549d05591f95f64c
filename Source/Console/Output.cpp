#include "Console/Output.h"

#include "Base/FileBytes.h"
#include "Base/Path.h"
#include "Log/LogStore.h"

#include <algorithm>
#include <filesystem>
#include <optional>

namespace valveladder::console {

namespace {

constexpr std::size_t maxTextBytes = std::size_t{4} << 20;

bool sameFile(const std::filesystem::path& a, const std::filesystem::path& b) {
    std::error_code error;
    return std::filesystem::equivalent(a, b, error) && !error;
}

/// The log, or another value of the command line, that names the same file as `path`.
std::optional<std::string> alsoGiven(const Tool& tool, const OutputOption& output) {
    const std::string& path = output.path;
    std::vector<std::string> others = output.inPlace ? std::vector<std::string>{} : tool.given;
    if (const auto self = std::ranges::find(others, path); self != others.end())
        others.erase(self);
    others.push_back(pathText(defaultLogPath()));
    const auto same = std::ranges::find_if(
        others, [&](const auto& other) { return sameFile(pathOf(other), pathOf(path)); });
    return same == others.end() ? std::nullopt : std::optional(*same);
}

} // namespace

CLI::Option* OutputOption::add(CLI::App& app, const std::string& help) {
    return app.add_option("-o,--output", path, help + " ('-' for standard output)")->option_text("FILE");
}

Result<Done> deliver(Tool& tool, const OutputOption& output, std::span<const std::uint8_t> bytes) {
    if (output.toStandardOutput()) {
        tool.printBytes(std::string(bytes.begin(), bytes.end()));
        return Done{};
    }
    if (auto in = alsoGiven(tool, output))
        return Problem{"this would overwrite what the command was given: " + *in, output.path,
                       "Choose another name for the output"};
    return writeFileBytes(pathOf(output.path), bytes);
}

Result<Done> deliver(Tool& tool, const OutputOption& output, const std::string& text) {
    const std::vector<std::uint8_t> bytes(text.begin(), text.end());
    return deliver(tool, output, bytes);
}

Result<std::string> readTextFile(const std::string& path) {
    auto bytes = readFileBytes(pathOf(path), maxTextBytes);
    if (!bytes)
        return bytes.problem();
    return std::string(bytes.value().begin(), bytes.value().end());
}

} // namespace valveladder::console
