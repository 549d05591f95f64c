#pragma once

#include "Base/Problem.h"
#include "Ladder/Drill.h"

#include <string>

namespace valveladder::console {

/// The drill in a file, its ranges not judged; Problems name the file.
[[nodiscard]] Result<Drill> readDrill(const std::string& path);

} // namespace valveladder::console
