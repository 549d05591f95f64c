#pragma once

#include "Findings/Identifiability.h"
#include "Findings/SeparatingDrill.h"
#include "Ladder/Drill.h"

#include <optional>
#include <vector>

namespace valveladder {

/// One change to a drill.
struct DrillRemedy {
    bool bothWays = false;           ///< each rung up and back down
    bool mixed = false;              ///< both fingerings in turn, segment by segment
    std::vector<FingeredCell> cells; ///< to play beside the drill
    Drill drill;                     ///< with that change, or of these cells
};

/// What a drill can tell of the fingers, known before a note of it is played.
struct DrillVerdict {
    Identifiability told;              ///< if all of it is played right, several times
    std::optional<DrillRemedy> remedy; ///< the smallest change after which nothing is left; absent when
                                       ///< nothing is left now or no change was found
};

/// What takes of this drill can tell, each played whole and right. Fails where buildScore fails.
[[nodiscard]] Result<DrillVerdict> verdictOn(const Drill& drill, const Instrument& instrument);

/// The evidence of a take in which every note of the drill is right and on time; no changeover is measured,
/// as by MIDI: what onsets can tell, changeovers can.
[[nodiscard]] Result<TakeEvidence> perfectTake(const Drill& drill, const Instrument& instrument);

} // namespace valveladder
