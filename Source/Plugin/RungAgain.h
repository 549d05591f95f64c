#pragma once

#include "Guide/GuideSettings.h"
#include "Score/Score.h"

namespace valveladder {

/// A rung as it comes again, host quarters.
struct RungStart {
    double ppq = 0.0;          ///< where to begin
    double firstNotePpq = 0.0; ///< its first note's onset

    /// Begun, and its first note still to come.
    [[nodiscard]] bool waitsAt(double at) const noexcept { return at >= ppq && at < firstNotePpq; }
};

/// Where to begin so that the rung played at `ppq` comes again: at the end of what is before
/// it, so that there is its rest to breathe in; the first rung begins with the count-in. In a rest the rung
/// is the one just played. Precondition: the score is not empty. [any]
[[nodiscard]] RungStart rungAgain(const Score& score, const GuideSettings& settings, double ppq) noexcept;

} // namespace valveladder
