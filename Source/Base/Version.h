#pragma once

#include <string_view>

namespace valveladder {

/// The version of Valve Ladder, "1.2.3", as CMakeLists.txt has it: its one place.
[[nodiscard]] std::string_view programVersion();

} // namespace valveladder
