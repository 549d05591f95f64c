#include "Listening/Performance.h"

#include <algorithm>

namespace valveladder {

void SegmentResult::count(std::span<const NoteResult> notes, int extras) {
    expected = static_cast<int>(notes.size());
    right = wrong = missed = breaths = 0;
    extra = extras;
    for (const NoteResult& note : notes) {
        right += note.outcome == Outcome::right;
        wrong += note.outcome == Outcome::wrong;
        missed += note.outcome == Outcome::missed;
        breaths += note.breathBefore;
    }
    played = right + wrong > 0;
    clean = right == expected && extra == 0 && breaths == 0;
}

int Performance::count(Outcome outcome) const {
    return static_cast<int>(
        std::ranges::count_if(notes, [outcome](const NoteResult& note) { return note.outcome == outcome; }));
}

bool Performance::clean() const {
    return !segments.empty() && std::ranges::all_of(segments, [](const SegmentResult& segment) {
        return segment.played && segment.clean;
    });
}

std::optional<double> Performance::worstIoiSpreadPercent() const {
    std::optional<double> worst;
    for (const SegmentResult& segment : segments)
        if (!segment.targetRatio && segment.ioiSpreadPercent)
            worst = std::max(worst.value_or(0.0), segment.ioiSpreadPercent->value);
    return worst;
}

} // namespace valveladder
