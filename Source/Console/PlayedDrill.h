#pragma once

#include "Console/DrillOptions.h"
#include "Console/LogOptions.h"
#include "Score/Score.h"

namespace valveladder::console {

/// A drill and its tempo: what every command chooses that writes a drill to be played.
struct PlayedDrillOptions {
    DrillOptions drill;
    TempoOption tempo;

    /// The two groups of options; between them stand those of the command itself.
    void addTempo(CLI::App& app) { tempo.add(app); }
    void addDrill(CLI::App& app) { drill.add(app); }

    struct Chosen {
        Instrument instrument;
        Drill drill;
        double bpm = 60.0; ///< given, else the plan's next
    };
    [[nodiscard]] Result<Chosen> choose(Tool& tool) const;
};

/// One pass of a drill, ready to be written.
struct PlayedDrill {
    PlayedDrillOptions::Chosen chosen;
    Score score;
};
[[nodiscard]] Result<PlayedDrill> playedDrill(Tool& tool, const PlayedDrillOptions& options);

} // namespace valveladder::console
