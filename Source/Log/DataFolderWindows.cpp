#include "Log/DataFolder.h"

#include "Base/Path.h"
#include "Base/System.h"

#include <windows.h>

#include <shlobj.h>

namespace valveladder {

std::filesystem::path dataFolder() {
    if (const auto named = environment("APPDATA"); named && !named->empty())
        return pathOf(*named);
    wchar_t* known = nullptr; // a host may have started us with an empty environment
    const bool found = SHGetKnownFolderPath(FOLDERID_RoamingAppData, 0, nullptr, &known) == S_OK;
    const std::filesystem::path folder = found ? std::filesystem::path(known) : std::filesystem::path();
    CoTaskMemFree(known);
    return folder;
}

} // namespace valveladder
