#pragma once

#include "Findings/Evidence.h"

#include <future>
#include <span>

namespace valveladder {

/// How a part of the work on these takes is to run beside another part: on a thread of its own where there
/// are enough changes to be worth one, else when its result is asked for.
[[nodiscard]] inline std::launch launchBeside(std::span<const TakeEvidence> takes) {
    constexpr std::size_t manyChanges = 50000;
    return changeCount(takes) >= manyChanges ? std::launch::async : std::launch::deferred;
}

} // namespace valveladder
