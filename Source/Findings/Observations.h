#pragma once

#include "Findings/Evidence.h"

#include <span>
#include <vector>

namespace valveladder {

/// What may be wrong with a change.
enum class Complaint {
    slow,   ///< its changeover, ms
    late,   ///< the onset deviation of the note reached, ms
    uneven, ///< the spread of that deviation about this change's own median
    wrong   ///< the note reached was wrong, missed or split
};

/// One measured change. `kind` stands for everything that the model knows of it.
struct Observation {
    int take = 0; ///< into ObservationTable::takes
    int kind = 0; ///< into ObservationTable::kinds
    int cell = 0; ///< into ObservationTable::cells
    int span = 0; ///< 0..spans-1, a span of one take
    double y = 0.0;
};

/// How often a kind was measured in a take.
struct Cell {
    int kind = 0;
    double count = 0.0;
};

struct TakeRange {
    int evidence = 0; ///< into the takes given
    int firstCell = 0;
    int cellCount = 0;
    int firstObservation = 0;
    int observationCount = 0;
    double weight = 1.0; ///< by age
};

/// The takes' evidence on one complaint, grouped so that a model's cost grows with takes x kinds, not with
/// notes squared. Takes without a single measure are left out.
struct ObservationTable {
    std::vector<ChangeEvidence> kinds; ///< one specimen each, without measures
    std::vector<Observation> observations;
    std::vector<Cell> cells;
    std::vector<TakeRange> takes;
    int spans = 0;
    double linesRemoved = 0.0; ///< degrees of freedom already spent on lines removed from the measure
};

/// `slow`: y = ms of changeover. `late` and `uneven`: y = deviation, ms. `wrong`: y = 1 or 0.
[[nodiscard]] ObservationTable observe(std::span<const TakeEvidence> takes, Complaint complaint);

/// Every n-th take of the table, so that at most `mostTakes` remain.
[[nodiscard]] ObservationTable thinned(const ObservationTable& table, int mostTakes);

} // namespace valveladder
