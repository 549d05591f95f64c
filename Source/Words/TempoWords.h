#pragma once

#include <fmt/format.h>

#include <cmath>
#include <string>

namespace valveladder::words {

/// A tempo in quarters a minute as it is written wherever a person reads it: "66", "66.5", "66.25".
[[nodiscard]] inline std::string tempoText(double bpm) {
    return fmt::format("{:.6g}", std::round(bpm * 100.0) / 100.0);
}

/// Whether two tempos are told as one: nobody sets or hears them apart.
[[nodiscard]] inline bool sameTempo(double a, double b) {
    constexpr double leastApartBpm = 0.05;
    return std::abs(a - b) < leastApartBpm;
}

} // namespace valveladder::words
