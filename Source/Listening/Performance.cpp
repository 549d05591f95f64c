#include "Listening/Performance.h"

#include <algorithm>

namespace valveladder {

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
