#pragma once

#include "Guide/Guide.h"
#include "Takes/TakeWatch.h"

namespace valveladder {

/// Where the own clock's tempo comes from.
enum class TempoFrom { plan, own };

/// All automatable settings as plain values, read once a block.
struct Controls {
    GuideSettings guide; ///< startPpq is filled by the processor, from startBar and the drill's meter
    TakeWay way = TakeWay::recordingPass;
    int markNote = -1;       ///< MIDI note that marks a take, -1 = none
    int markController = -1; ///< MIDI controller that marks a take when it rises over 64, -1 = none
    bool runOwnClock = false;
    TempoFrom tempoFrom = TempoFrom::plan;
    double ownBpm = 60.0;
    int startBar = 1; ///< host bar, counted from 1 in the drill's meter, at which the count-in begins
    double soundThresholdDb = -45.0; ///< dB of full scale; peak of a block that counts as playing
    int listenChannel = 0;           ///< MIDI channel of the player's notes, 0 = any
};

} // namespace valveladder
