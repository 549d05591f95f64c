#pragma once

namespace valveladder {

/// What is round the window, as its words go by it.
struct Surroundings {
    bool host = true;     ///< which has a clock, recording and tracks; false: the program stands alone
    bool ownKeys = false; ///< Space, R and Ctrl+Z are the window's
    bool operator==(const Surroundings&) const = default;
};

} // namespace valveladder
