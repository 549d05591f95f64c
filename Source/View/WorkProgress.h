#pragma once

#include <functional>
#include <optional>
#include <string>

namespace valveladder {

/// Work that goes on behind the window: what it is, how far it has come, and a way to stop it. A plain value;
/// its functions are called on the message thread and must not outlive what they ask.
struct WorkProgress {
    std::string words;                            ///< "Reading the log"
    std::function<bool()> running;                ///< never null
    std::function<std::optional<double>()> share; ///< 0..1; nothing = how much there is is not known
    std::function<void()> stop;
};

} // namespace valveladder
