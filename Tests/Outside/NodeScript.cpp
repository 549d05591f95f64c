#include "Outside/NodeScript.h"

#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <memory>

namespace valveladder {

namespace {

const std::filesystem::path readersFolder = std::filesystem::path(VALVE_LADDER_BINARY_DIR) / "outside";

std::string quoted(const std::filesystem::path& path) {
    return "'" + path.string() + "'";
}

} // namespace

std::optional<std::string> outsideReadersMissing() {
    if (std::system("node --version > /dev/null 2>&1") != 0)
        return "node is not installed";
    if (!std::filesystem::exists(readersFolder / "node_modules"))
        return "the independent readers are not installed: build the target outside_readers";
    return std::nullopt;
}

nlohmann::json runNodeScript(const std::string& script, const std::filesystem::path& file) {
    const std::filesystem::path source =
        std::filesystem::path(VALVE_LADDER_SOURCE_DIR) / "Tests/Outside" / script;
    const std::string command = "node " + quoted(source) + " " + quoted(readersFolder) + " " + quoted(file);
    FILE* pipe = popen(command.c_str(), "r");
    std::string output;
    std::array<char, 65536> buffer{};
    while (pipe) {
        const std::size_t count = std::fread(buffer.data(), 1, buffer.size(), pipe);
        output.append(buffer.data(), count);
        if (count == 0)
            break;
    }
    const int status = pipe ? pclose(pipe) : -1;
    EXPECT_EQ(status, 0) << command;
    return nlohmann::json::parse(output, nullptr, false);
}

} // namespace valveladder
