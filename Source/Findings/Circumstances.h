#pragma once

#include "Findings/Evidence.h"

#include <Eigen/Dense>

namespace valveladder {

/// Terms every model holds, so that a suspect is not blamed for the circumstances it was played in. Tempo,
/// and all else that is the same throughout a take, is taken up by the take's own level; in deviations a line
/// of each segment is taken from measures and terms alike.
namespace circumstances {

enum Term : int {
    relaxedTouch,
    longNote,
    shortNote,
    fingersMoved,
    goingDown,
    interval,     ///< semitones, either way
    partialJump,  ///< partials, either way
    pitch,        ///< written, octaves from C4: low notes speak later
    pitchSquared, ///< the same, bent
    accent,
    afterAccent, ///< an accented note is held a little longer
    secondAfterAccent,
    offBeat,
    firstOfSegment,
    count
};

/// Shrunk as if one further observation had shown none of them (ridge), so that collinear ones stay finite.
inline constexpr double ridge = 1.0;

[[nodiscard]] Eigen::RowVectorXd row(const ChangeEvidence& kind);

} // namespace circumstances

} // namespace valveladder
