#include "Words/ReviewWords.h"

#include <fmt/format.h>

namespace valveladder::words {

std::string takesLeftOut(int unreadable) {
    return fmt::format("{} of the takes left out: their drill cannot be read", unreadable);
}

} // namespace valveladder::words
