#pragma once

#include "Valves/Combination.h"

namespace valveladder {

/// From one combination to the next: which fingers press, which release.
struct Change {
    Combination from;
    Combination to;

    [[nodiscard]] constexpr Combination pressed() const {
        return Combination(static_cast<std::uint8_t>(to.bits() & ~from.bits()));
    }
    [[nodiscard]] constexpr Combination released() const {
        return Combination(static_cast<std::uint8_t>(from.bits() & ~to.bits()));
    }
    /// How many fingers move, 0..4.
    [[nodiscard]] constexpr int fingersMoved() const { return pressed().count() + released().count(); }

    constexpr auto operator<=>(const Change&) const = default;
};

/// "1-2 to 2-3", each as combinationName has it: "T0 to 2-3" with a thumb valve.
[[nodiscard]] std::string changeName(const Change& change, bool thumbValve);

} // namespace valveladder
