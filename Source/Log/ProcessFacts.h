#pragma once

#include <cstdint>
#include <string>

// What a system tells about its processes: ProcessFacts<name>.cpp, one a system.

namespace valveladder {

/// An id of this computer; "" where the system does not say.
[[nodiscard]] std::string hostOfProcesses();

/// When a process began, in the system's own terms; "" when it has ended, or the system does not say.
[[nodiscard]] std::string startOfProcess(std::int64_t process);

[[nodiscard]] bool processExists(std::int64_t process);

[[nodiscard]] std::int64_t ownProcess();

} // namespace valveladder
