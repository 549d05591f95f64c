#include "Engraving/SheetSpelling.h"

#include <algorithm>
#include <array>
#include <cstdlib>

namespace valveladder {

std::vector<int> keySteps(int fifths) {
    static constexpr std::array<int, 7> sharps{3, 0, 4, 1, 5, 2, 6}; // F C G D A E B
    std::vector<int> steps;
    const int count = std::min(7, std::abs(fifths));
    for (int i = 0; i < count; ++i)
        steps.push_back(sharps[static_cast<std::size_t>(fifths > 0 ? i : 6 - i)]);
    return steps;
}

int alterInKey(int step, int fifths) {
    const std::vector<int> steps = keySteps(fifths);
    const bool altered = std::find(steps.begin(), steps.end(), step) != steps.end();
    return altered ? (fifths > 0 ? 1 : -1) : 0;
}

std::optional<int> BarAccidentals::print(const Spelled& spelled, bool tiedFrom) {
    int& current = inForce.try_emplace(spelled.place(), alterInKey(spelled.step, key)).first->second;
    const bool printed = current != spelled.alter && !tiedFrom;
    current = spelled.alter;
    return printed ? std::optional(spelled.alter) : std::nullopt;
}

} // namespace valveladder
