#include "Base/SystemClock.h"

#include <chrono>

namespace valveladder {

std::int64_t systemUtcMs() {
    const auto now = std::chrono::system_clock::now().time_since_epoch();
    return std::chrono::duration_cast<std::chrono::milliseconds>(now).count();
}

} // namespace valveladder
