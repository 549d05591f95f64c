#pragma once

#include "Findings/SideBySide.h"

#include <cmath>
#include <numeric>
#include <optional>
#include <vector>

namespace valveladder {

/// Calls `use(note, value)` with every finite value that a take holds of a measure: a changeover stands with
/// the note that it leads to, lateness and intonation count for right notes only. `note` is an index into
/// Score::notes, as the take has it: it may lie outside of them.
template <typename Use>
void forEachMeasured(const Performance& take, NoteMeasure measure, Use use) {
    const auto give = [&use](int note, const std::optional<double>& value) {
        if (value && std::isfinite(*value))
            use(note, *value);
    };
    if (measure == NoteMeasure::changeover) {
        for (const ChangeResult& change : take.changes)
            give(change.toIndex, change.changeoverMs);
        return;
    }
    for (const NoteResult& note : take.notes)
        if (note.outcome == Outcome::right)
            give(note.index, measure == NoteMeasure::deviation ? note.deviationMs : note.cents);
}

/// Arithmetic mean. Precondition: not empty.
[[nodiscard]] inline double meanOf(const std::vector<double>& values) {
    return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

} // namespace valveladder
