#pragma once

#include "Guide/GuideSettings.h"
#include "Guide/HostBlock.h"
#include "Session/SessionView.h"
#include "Takes/TakeWatch.h"

#include <cstdint>

namespace valveladder {

/// One audio block under the clock that leads, as audio thread, worker and session know it alike. Plain data.
struct LedBlock {
    std::int64_t startSample = 0; ///< counts from the first block after prepare, without gap
    HostBlock host;               ///< of the leading clock
    Clock clock = Clock::none;
    std::uint64_t trackId = 0; ///< GuideTrack::id() the guide played from, 0 = none
    GuideSettings guide;
    TakeWay way = TakeWay::recordingPass;
    double soundThresholdDb = -45.0; ///< dB of full scale, peak of a block that counts as playing
    int listenChannel = 0;           ///< MIDI channel of the player's notes, 0 = any
};

} // namespace valveladder
