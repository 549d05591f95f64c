#include "Console/Output.h"

#include "Files/FileBytes.h"

namespace valveladder::console {

namespace {

constexpr std::size_t maxTextBytes = std::size_t{4} << 20;

} // namespace

CLI::Option* OutputOption::add(CLI::App& app, const std::string& help) {
    return app.add_option("-o,--output", path, help + " ('-' for standard output)")->option_text("FILE");
}

Result<Done> deliver(Tool& tool, const OutputOption& output, std::span<const std::uint8_t> bytes) {
    if (!output.toStandardOutput())
        return writeFileBytes(output.path, bytes);
    tool.printText(std::string(bytes.begin(), bytes.end()));
    return Done{};
}

Result<Done> deliver(Tool& tool, const OutputOption& output, const std::string& text) {
    const std::vector<std::uint8_t> bytes(text.begin(), text.end());
    return deliver(tool, output, bytes);
}

Result<std::string> readTextFile(const std::string& path) {
    auto bytes = readFileBytes(path, maxTextBytes);
    if (!bytes)
        return bytes.problem();
    return std::string(bytes.value().begin(), bytes.value().end());
}

} // namespace valveladder::console
