#pragma once

#include "Valves/Combination.h"

namespace valveladder {

/// From one combination to the next: which fingers press, release, hold.
struct Change {
    Combination from;
    Combination to;

    [[nodiscard]] constexpr Combination pressed() const {
        return Combination(static_cast<std::uint8_t>(to.bits() & ~from.bits()));
    }
    [[nodiscard]] constexpr Combination released() const {
        return Combination(static_cast<std::uint8_t>(from.bits() & ~to.bits()));
    }
    [[nodiscard]] constexpr Combination held() const {
        return Combination(static_cast<std::uint8_t>(from.bits() & to.bits()));
    }
    /// How many fingers move, 0..4.
    [[nodiscard]] constexpr int fingersMoved() const { return pressed().count() + released().count(); }

    /// "1-2 to 2-3".
    [[nodiscard]] std::string name() const;

    constexpr auto operator<=>(const Change&) const = default;
};

} // namespace valveladder
