#pragma once

#include "Score/Score.h"
#include "Tempo/TempoPlan.h"
#include "Valves/Instrument.h"

namespace valveladder::host {

/// What the plugin plays when it is opened for the first time.
[[nodiscard]] inline const Score& defaultScore() {
    static const Score score = [] {
        const Instrument& instrument = catalogue().front();
        return buildScore(defaultDrill(instrument), instrument, TempoRules{}.startBpm).value();
    }();
    return score;
}

} // namespace valveladder::host
