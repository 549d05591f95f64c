#pragma once

#include "Guide/GuideTrack.h"

namespace valveladder {

/// What backingEvents() plays in a lap with its count-in, all parts but the click (which the guide has), as
/// cues for a GuideTrack of the same score: live backing and SMF backing are the same.
[[nodiscard]] std::vector<GuideCue> backingCues(const Score& score);

} // namespace valveladder
