#include "Log/DataFolder.h"

#include "Base/System.h"

#include <pwd.h>
#include <unistd.h>

namespace valveladder {

namespace {

std::filesystem::path home() {
    if (const auto named = environment("HOME"); named && !named->empty())
        return *named;
    const passwd* entry = getpwuid(getuid());
    return entry != nullptr ? entry->pw_dir : "/";
}

} // namespace

std::filesystem::path dataFolder() {
#if defined(__APPLE__)
    return home() / "Library" / "Application Support";
#else
    // A relative path is to be ignored: XDG Base Directory Specification 0.8, "Basics".
    if (const std::filesystem::path named = environment("XDG_DATA_HOME").value_or(""); named.is_absolute())
        return named;
    return home() / ".local" / "share";
#endif
}

} // namespace valveladder
