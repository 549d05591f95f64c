#pragma once

#include "Console/DrillOptions.h"
#include "Console/LogOptions.h"
#include "Score/Score.h"

namespace valveladder::console {

/// A drill and its tempo: what every command chooses that writes a drill to be played.
struct PlayedDrillOptions {
    DrillOptions drill;
    TempoOption tempo;

    struct Chosen {
        Instrument instrument;
        Drill drill;
        double bpm = 60.0; ///< given, else the plan's next
    };
    /// Drill and instrument as DrillOptions chooses them, the tempo as TempoOption does, which may say so on
    /// `tool`.
    [[nodiscard]] Result<Chosen> choose(Tool& tool) const;
};

/// One pass of a drill, ready to be written.
struct PlayedDrill {
    PlayedDrillOptions::Chosen chosen;
    Score score;
};
/// Fails where the drill cannot be chosen, or not be built at its tempo.
[[nodiscard]] Result<PlayedDrill> playedDrill(Tool& tool, const PlayedDrillOptions& options);

} // namespace valveladder::console
