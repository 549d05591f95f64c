#pragma once

#include <bit>
#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace valveladder {

inline constexpr int maxValves = 4;

/// A set of valves pressed. Bit 0 is valve 1 (index finger) ... bit 3 is valve 4, or the thumb valve of a
/// double horn. All 16 values are valid; which make sense is the Instrument's matter.
class Combination {
public:
    constexpr Combination() = default;
    explicit constexpr Combination(std::uint8_t bits) : mask(static_cast<std::uint8_t>(bits & 0x0F)) {}

    [[nodiscard]] constexpr std::uint8_t bits() const { return mask; }
    /// `valve` 1..4.
    [[nodiscard]] constexpr bool has(int valve) const { return (mask >> (valve - 1)) & 1; }
    [[nodiscard]] constexpr int count() const { return std::popcount(mask); }

    /// "0" (open), "2", "1-3", "1-2-4".
    [[nodiscard]] std::string name() const;
    /// Reads "0", "13", "1-3", "1+3"; nothing for anything else, a valve twice, or a valve over 4.
    [[nodiscard]] static std::optional<Combination> parse(std::string_view text);

    constexpr auto operator<=>(const Combination&) const = default;

private:
    std::uint8_t mask = 0;
};

/// "1" to "4", the thumb's valve "T": the finger is called as its valve is.
[[nodiscard]] std::string valveName(int valve, bool thumbValve);

/// Fingers by their valves, each valve as valveName has it: "2-3", "T", "2-3-T"; "0" for none.
[[nodiscard]] std::string fingersName(Combination fingers, bool thumbValve);

/// As Combination::name, with "T" before the others for a thumb valve: "T2-3", "T0".
[[nodiscard]] std::string combinationName(Combination combination, bool thumbValve);

} // namespace valveladder
