#pragma once

#include "Base/Problem.h"
#include "Music/Part.h"
#include "Music/PlayOrder.h"

#include <pugixml.hpp>

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace valveladder {

/// A note element as it stands in its bar, before voices are chosen and ties joined. Ticks from the bar's
/// start.
struct RawNote {
    Tick start = 0;
    Tick length = 0;
    MidiNote written = 60;
    int transposition = 0;
    std::string voice;
    bool grace = false;
    bool tieStart = false;
    bool tieStop = false;
    int slurStarts = 0;
    int slurStops = 0;
    int source = 0;
    std::optional<int> alter{}; ///< as PartNote::alter; nothing for double accidentals
};

struct RawBar {
    std::string number;
    Tick length = 0;
    std::vector<RawNote> notes; ///< in the file's order
    BarSigns signs;
    PartMeter meter; ///< in force at its start, as is the key
    PartKey key;
    double bpmAtStart = 0.0;       ///< 0 = none given yet
    std::vector<PartTempo> tempos; ///< ticks from the bar's start
};

struct RawPart {
    int ticksPerQuarter = 1;
    std::vector<RawBar> bars;
    std::map<std::string, int> leftOut; ///< what was not read, in words, and how often
};

/// The measures of one part in order: of a partwise score its own, of a timewise one its share of each.
[[nodiscard]] std::vector<pugi::xml_node> measuresOf(pugi::xml_node root, int part);

[[nodiscard]] Result<RawPart> readBars(const std::vector<pugi::xml_node>& measures);

} // namespace valveladder
