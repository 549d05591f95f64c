#include "Engraving/SheetSpelling.h"

#include <algorithm>
#include <array>
#include <cstdlib>

namespace valveladder {

Spelled spell(MidiNote written, bool rising) {
    static constexpr std::array<int, 12> sharpSteps{0, 0, 1, 1, 2, 3, 3, 4, 4, 5, 5, 6};
    static constexpr std::array<int, 12> flatSteps{0, 1, 1, 2, 2, 3, 4, 4, 5, 5, 6, 6};
    static constexpr std::array<int, 7> naturals{0, 2, 4, 5, 7, 9, 11};
    const auto pitchClass = static_cast<std::size_t>(written % 12);
    const int step = rising ? sharpSteps[pitchClass] : flatSteps[pitchClass];
    return {step, static_cast<int>(pitchClass) - naturals[static_cast<std::size_t>(step)], written / 12 - 1};
}

bool rising(const Score& score, int note) {
    const auto at = [&score](int index) -> const ScoreNote& {
        return score.notes[static_cast<std::size_t>(index)];
    };
    const ScoreSpan& own = score.spans[static_cast<std::size_t>(at(note).span)];
    const int last = own.firstNote + own.noteCount - 1;
    const int to = std::min(note + 1, last);
    const int from = to == note ? std::max(note - 1, own.firstNote) : note;
    return at(to).written >= at(from).written;
}

Spelled spelledNote(const Score& score, int note) {
    return spell(score.notes[static_cast<std::size_t>(note)].written, rising(score, note));
}

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
