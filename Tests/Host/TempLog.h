#pragma once

#include <filesystem>
#include <string>

namespace valveladder::host {

/// A folder of its own for a test, named to the plugin by VALVE_LADDER_LOG, and gone after it.
class TempLog {
public:
    TempLog();
    ~TempLog();
    TempLog(const TempLog&) = delete;
    TempLog& operator=(const TempLog&) = delete;

    [[nodiscard]] const std::filesystem::path& folder() const { return place; }
    [[nodiscard]] std::filesystem::path log() const { return place / "log.sqlite"; }

private:
    std::filesystem::path place;
};

/// Sets or (empty value) unsets a variable of this process's environment.
void setEnvironment(const std::string& name, const std::string& value);

} // namespace valveladder::host
