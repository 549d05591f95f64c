#include "Valves/Combination.h"

#include "Valves/Change.h"

namespace valveladder {

std::string Combination::name() const {
    return fingersName(*this, false);
}

std::optional<Combination> Combination::parse(std::string_view text) {
    if (text == "0")
        return Combination();
    int bits = 0;
    bool digitExpected = true;
    for (const char character : text) {
        if (character == '-' || character == '+') {
            if (digitExpected)
                return std::nullopt;
            digitExpected = true;
            continue;
        }
        const int valve = character - '0';
        if (valve < 1 || valve > maxValves || (bits & (1 << (valve - 1))) != 0)
            return std::nullopt;
        bits |= 1 << (valve - 1);
        digitExpected = false;
    }
    if (digitExpected)
        return std::nullopt;
    return Combination(static_cast<std::uint8_t>(bits));
}

std::string valveName(int valve, bool thumbValve) {
    return thumbValve && valve == maxValves ? "T" : std::to_string(valve);
}

std::string fingersName(Combination fingers, bool thumbValve) {
    std::string name;
    for (int valve = 1; valve <= maxValves; ++valve)
        if (fingers.has(valve))
            name += (name.empty() ? "" : "-") + valveName(valve, thumbValve);
    return name.empty() ? "0" : name;
}

std::string combinationName(Combination combination, bool thumbValve) {
    if (!thumbValve || !combination.has(maxValves))
        return combination.name();
    const Combination rest(static_cast<std::uint8_t>(combination.bits() & 0x07));
    return valveName(maxValves, thumbValve) + rest.name();
}

std::string changeName(const Change& change, bool thumbValve) {
    return combinationName(change.from, thumbValve) + " to " + combinationName(change.to, thumbValve);
}

} // namespace valveladder
