#include "Listening/PassingNotes.h"

#include "Listening/NoteEdges.h"

#include <algorithm>

namespace valveladder {

void markPassing(const PhraseSound& sound, std::span<const Tone> settled, std::size_t number,
                 std::span<HeardNote> notes) {
    const auto kept = std::ranges::find(settled, number, &Tone::number);
    if (kept == settled.end()) {
        for (HeardNote& note : notes)
            note.passing = true;
        return;
    }
    const std::size_t expected = kept == settled.begin() ? 0 : (kept - 1)->number + 1;
    if (expected < number)
        notes.front().ifPassed = beginningOf(sound, *kept);
}

void markSlow(std::span<const SlowChange> slow, std::size_t number, std::span<HeardNote> notes) {
    const bool halfWay = isHalfWay(slow, number);
    for (HeardNote& note : notes)
        note.onlyHalfWay = halfWay;
    if (const auto change = std::ranges::find(slow, number, &SlowChange::after); change != slow.end())
        notes.front().slowly = change->readings;
}

} // namespace valveladder
