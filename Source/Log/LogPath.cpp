#include "Log/LogStore.h"

#include <cstdlib>

#if !defined(_WIN32)
#include <pwd.h>
#include <unistd.h>
#endif

namespace valveladder {

namespace {

std::filesystem::path fromEnvironment(const char* variable) {
    const char* value = std::getenv(variable);
    return value != nullptr ? std::filesystem::path(value) : std::filesystem::path();
}

#if !defined(_WIN32)
std::filesystem::path home() {
    if (auto path = fromEnvironment("HOME"); !path.empty())
        return path;
    const passwd* entry = getpwuid(getuid());
    return entry != nullptr ? std::filesystem::path(entry->pw_dir) : std::filesystem::path("/");
}
#endif

std::filesystem::path dataFolder() {
#if defined(_WIN32)
    return fromEnvironment("APPDATA");
#elif defined(__APPLE__)
    return home() / "Library" / "Application Support";
#else
    // A relative path is to be ignored: XDG Base Directory Specification 0.8, "Basics".
    if (auto path = fromEnvironment("XDG_DATA_HOME"); path.is_absolute())
        return path;
    return home() / ".local" / "share";
#endif
}

} // namespace

std::filesystem::path defaultLogPath() {
    if (auto path = fromEnvironment("VALVE_LADDER_LOG"); !path.empty())
        return path;
    return dataFolder() / "Valve Ladder" / "log.sqlite";
}

} // namespace valveladder
