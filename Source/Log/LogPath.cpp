#include "Base/Path.h"
#include "Base/System.h"
#include "Log/DataFolder.h"
#include "Log/LogStore.h"

namespace valveladder {

std::filesystem::path defaultLogPath() {
    if (const auto named = environment("VALVE_LADDER_LOG"); named && !named->empty())
        return pathOf(*named);
    return dataFolder() / "Valve Ladder" / "log.sqlite";
}

} // namespace valveladder
