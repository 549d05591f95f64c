#pragma once

#include "Ladder/PitchNames.h"
#include "View/TakeModel.h"

#include <optional>
#include <string>
#include <vector>

namespace valveladder {

/// One expected note of a graph, with what was measured of it in the first take and in the second.
struct GraphPoint {
    int index = 0; ///< into Score::notes
    int segment = 0;
    MidiNote written = 60;
    MidiNote sounding = 60;
    std::string combination;
    std::optional<double> first, second;    ///< ms or cents
    Outcome outcome = Outcome::right;       ///< in the first take
    Outcome secondOutcome = Outcome::right; ///< where there is a second one
};

/// One measure over the notes of a rung, of one take or two. Plain data.
struct GraphModel {
    NoteMeasure measure = NoteMeasure::deviation;
    std::vector<GraphPoint> points; ///< by index
    bool twoTakes = false;
    /// Why the takes hold nothing of the measure; empty when any note of them does, on this rung or another,
    /// so that a graph does not come and go with the rung that is chosen.
    std::string notMeasured;

    /// Position in `points` of a note.
    [[nodiscard]] std::optional<std::size_t> pointOf(int noteIndex) const;
    /// "14 notes: median -3 ms, from -20 to 12", or why there is nothing.
    [[nodiscard]] std::string summary() const;
    /// "F#3, 1-2-3: 12 ms late", of both takes where there are two.
    [[nodiscard]] std::string wordsOf(const GraphPoint& point, const PitchNames& names) const;
};

/// `first` and `second` may be null; without a first take there are no points, and nothing is missing.
[[nodiscard]] GraphModel graphModel(NoteMeasure measure, const TakeModel* first, const TakeModel* second,
                                    int rung);

/// Half the axis for deviations and cents, all of it for changeovers: one for all rungs of both takes, which
/// may be null.
[[nodiscard]] double graphReach(NoteMeasure measure, const TakeModel* first, const TakeModel* second);

/// A point's pitch as it is to be named.
[[nodiscard]] std::string nameOf(const GraphPoint& point, const PitchNames& names);

} // namespace valveladder
