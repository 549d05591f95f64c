#pragma once

#include "Guide/GuideSettings.h"
#include "Score/Score.h"

namespace valveladder {

/// Where to begin, host quarters, so that the rung played at `ppq` comes again: at the end of what is before
/// it, so that there is its rest to breathe in; the first rung begins with the count-in. In a rest the rung
/// is the one just played. Precondition: the score is not empty. [any]
[[nodiscard]] double rungAgain(const Score& score, const GuideSettings& settings, double ppq) noexcept;

} // namespace valveladder
