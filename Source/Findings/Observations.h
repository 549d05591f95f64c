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
    int take = 0;  ///< into ObservationTable::takes
    int kind = 0;  ///< into ObservationTable::kinds
    int block = 0; ///< into ObservationTable::blocks
    int place = 0; ///< into the block's Layout
    int span = 0;  ///< 0..spans-1, a span of one take
    double y = 0.0;
};

/// A run of changes asked for, measured or not. Takes of one drill share theirs.
struct Layout {
    std::vector<int> kinds;
    std::vector<int> ticks; ///< onsets of the notes reached, from the start of the segment
    std::vector<int> notes; ///< index in the score, from the first of this layout

    [[nodiscard]] int size() const { return static_cast<int>(kinds.size()); }
    bool operator==(const Layout&) const = default;
};

/// A span, or an even part of a long one, as played in one take. Its observations lie together, by place.
struct Block {
    int take = 0;
    int layout = 0;
    int firstObservation = 0;
    int observationCount = 0;
};

/// Longer spans are cut into blocks of no more changes than this.
inline constexpr int mostBlockChanges = 64;

struct TakeRange {
    int evidence = 0; ///< into the takes given
    int firstBlock = 0;
    int blockCount = 0;
    int firstObservation = 0;
    int observationCount = 0;
    double weight = 1.0; ///< by age
};

/// What is taken from measures and columns alike before effects are looked for.
enum class Baseline {
    takeLevel,  ///< each take's mean
    segmentLine ///< a line in each block
};

/// The takes' evidence on one complaint, grouped so that a model's cost grows with notes only where they are
/// summed. Takes without a single measure are left out.
struct ObservationTable {
    Baseline baseline = Baseline::takeLevel;
    std::vector<ChangeEvidence> kinds; ///< one specimen each, without measures
    std::vector<Layout> layouts;
    std::vector<Observation> observations;
    std::vector<Block> blocks;
    std::vector<TakeRange> takes;
    int spans = 0;
};

/// `slow`: y = ms of changeover. `late` and `uneven`: y = deviation, ms. `wrong`: y = 1 or 0. Only deviations
/// have a segmentLine; blocks of fewer than leastForLine measures say nothing beside it and are left out.
[[nodiscard]] ObservationTable observe(std::span<const TakeEvidence> takes, Complaint complaint);

/// Every change asked for as if measured: what a fit could tell, y = 0.
[[nodiscard]] ObservationTable observeAsked(std::span<const TakeEvidence> takes, Baseline baseline);

inline constexpr int leastForLine = 4;

/// Every n-th take of the table, so that at most `mostTakes` remain.
[[nodiscard]] ObservationTable thinned(const ObservationTable& table, int mostTakes);

/// The y of each observation.
[[nodiscard]] std::vector<double> measuresOf(const ObservationTable& table);

/// How often each kind was measured.
[[nodiscard]] std::vector<double> kindCounts(const ObservationTable& table);

} // namespace valveladder
