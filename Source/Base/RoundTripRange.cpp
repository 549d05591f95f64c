#include "Base/RoundTripRange.h"

#include <fmt/format.h>

namespace valveladder {

std::string RoundTripRange::refusal() const {
    return fmt::format("the round trip is outside {:g} to {:g} ms", leastMs, mostMs);
}

} // namespace valveladder
