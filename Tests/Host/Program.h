#pragma once

#include <sys/types.h>

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

namespace valveladder::host {

/// A program that runs beside the test; ended with it.
class Program {
public:
    /// `words` are its name and arguments; what it says goes to `output`. A variable of `environment`
    /// ("NAME=VALUE") stands beside those of this process.
    Program(const std::vector<std::string>& words, const std::filesystem::path& output,
            const std::vector<std::string>& environment = {});
    ~Program();
    Program(const Program&) = delete;
    Program& operator=(const Program&) = delete;

    [[nodiscard]] bool runs();
    /// Asks it to end, and waits. False where it had to be killed, or had ended before.
    bool end();
    /// Whether a signal ended it that nobody here sent.
    [[nodiscard]] bool crashed() const { return fault; }

private:
    void ended(int status, bool asked);

    pid_t id = -1;  ///< -1: not running
    int input = -1; ///< what it reads from; stays open
    bool fault = false;
};

/// What a program of others needs to load a plugin of this build, "NAME=VALUE" each: nothing but in builds
/// with the address sanitizer.
[[nodiscard]] std::vector<std::string> sanitizerEnvironment();

/// Waits for a condition, however busy the machine; false when it has not come after so long.
bool until(const std::function<bool()>& reached, int seconds = 300);

} // namespace valveladder::host
