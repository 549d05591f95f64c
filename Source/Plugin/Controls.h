#pragma once

#include "Guide/Guide.h"
#include "Sound/OwnSoundSettings.h"
#include "Takes/TakeWatch.h"

#include <map>
#include <string>

namespace valveladder {

/// Values of automatable parameters, in their own units, by id.
using ParameterValues = std::map<std::string, double>;

/// Where the own clock's tempo comes from.
enum class TempoFrom { plan, own };

/// All automatable settings as plain values, read once a block.
struct Controls {
    GuideSettings guide;    ///< startPpq is filled in by AudioPath, from startBar and the drill's meter
    OwnSoundSettings sound; ///< our own, beside the MIDI
    TakeWay way = TakeWay::recordingPass;
    bool runOwnClock = false;
    TempoFrom tempoFrom = TempoFrom::plan;
    double ownBpm = 60.0;
    int startBar = 1; ///< host bar, counted from 1 in the drill's meter, at which the count-in begins
    double soundThresholdDb = -45.0; ///< dB of full scale; peak of a block that counts as playing
    bool link = false;               ///< take part in Ableton Link
    int listenChannel = 0;           ///< MIDI channel of the player's notes, 0 = any
};

} // namespace valveladder
