#pragma once

#include <filesystem>
#include <initializer_list>
#include <string>
#include <utility>
#include <vector>

namespace valveladder::consoletest {

/// What the tool did.
struct Ran {
    int exitCode = -1; ///< -1: it did not end by itself
    int signal = 0;    ///< that ended it, 0 = none
    std::string out;
    std::string err;
};

/// A folder of its own for one test, with its own log, gone afterwards.
class Sandbox {
public:
    Sandbox();
    ~Sandbox();
    Sandbox(const Sandbox&) = delete;
    Sandbox& operator=(const Sandbox&) = delete;

    /// The tool run in this folder, in UTC, with this sandbox's log.
    Ran run(const std::vector<std::string>& arguments) const;
    /// The same under `sh -c`, the tool being "$TOOL": for redirections and limits.
    Ran shell(const std::string& script) const;

    [[nodiscard]] std::filesystem::path file(const std::string& name) const { return folder / name; }
    [[nodiscard]] std::filesystem::path log() const { return folder / "log.sqlite"; }
    void write(const std::string& name, const std::string& content) const;
    [[nodiscard]] std::string read(const std::string& name) const;

private:
    std::filesystem::path folder;
};

/// Lines longer than `width` bytes.
[[nodiscard]] std::vector<std::string> linesOver(const std::string& text, std::size_t width);

} // namespace valveladder::consoletest
