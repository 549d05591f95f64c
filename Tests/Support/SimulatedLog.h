#pragma once

#include "Log/LogStore.h"
#include "Support/SimulatedPlayer.h"

#include <string>

namespace valveladder::simulated {

/// Invented practice to be written into a log.
struct Practice {
    std::string player = "Ann";
    Instrument instrument = *findInstrument("euphonium-4-treble");
    Drill drill = fullDrill(*findInstrument("euphonium-4-treble"));
    int takes = 8;
    int perDay = 4;
    double firstBpm = 66.0;
    bool invented = false; ///< marked so in the log
};

/// The n-th take as it would stand in the log, with an id made of player and number.
[[nodiscard]] TakeRecord recordOf(Player& player, const Practice& practice, int take);

/// Writes all takes; fails where the log does.
[[nodiscard]] Result<Done> keepPractice(LogStore& log, Player& player, const Practice& practice);

} // namespace valveladder::simulated
