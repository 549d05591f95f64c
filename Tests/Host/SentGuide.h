#pragma once

#include "Host/SongMap.h"
#include "Host/Tapped.h"

#include <functional>

namespace valveladder::host {

/// What the tap passed on of the guide.
struct SentGuide {
    int notes = 0;           ///< that were due and came, each with its pitch
    double furthestMs = 0.0; ///< from their place in the Score
};

/// Channel of the guide's notes.
inline constexpr int guideChannel = 1;

/// Fails where a note of the default Score is missing that lies half a quarter or more before `lastQuarter`,
/// or one is of another pitch or further off than `allowedMs(quarter)`. `rate`: Hz.
[[nodiscard]] SentGuide expectGuideSent(const std::filesystem::path& tapped, const SongMap& song, int rate,
                                        double lastQuarter,
                                        const std::function<double(double quarter)>& allowedMs);

} // namespace valveladder::host
