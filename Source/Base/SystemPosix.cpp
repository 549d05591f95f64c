#include "Base/System.h"

#include <algorithm>
#include <cstdlib>

namespace valveladder {

std::optional<std::string> environment(const char* variable) {
    const char* value = std::getenv(variable);
    return value != nullptr ? std::optional<std::string>(value) : std::nullopt;
}

void setEnvironment(const char* variable, const std::optional<std::string>& value) {
    if (value)
        setenv(variable, value->c_str(), 1);
    else
        unsetenv(variable);
}

std::FILE* openNew(const std::filesystem::path& path) {
    return std::fopen(path.c_str(), "wbx");
}

std::vector<std::string> programArguments(int argc, char** argv) {
    return {argv + std::min(argc, 1), argv + argc};
}

} // namespace valveladder
