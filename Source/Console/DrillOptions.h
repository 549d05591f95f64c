#pragma once

#include "Console/InstrumentOption.h"
#include "Ladder/Drill.h"
#include "Tempo/TempoPlan.h"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace valveladder::console {

/// A drill on the command line: an instrument's default drill or one from a file, and what to change in it.
struct DrillOptions {
    InstrumentOption instrument;
    std::string file; ///< "" = the instrument's default drill

    std::optional<std::string> name;
    std::optional<MidiNote> foot, firstTop, lastTop;
    std::optional<Growth> growth;
    std::optional<Shape> shape;
    std::optional<CellPattern> cells;
    std::optional<std::vector<int>> segments; ///< which of the drill's segments, from 1, in order
    std::optional<std::pair<int, int>> ratio; ///< long to short
    std::optional<bool> slurred;
    std::optional<int> noteTicks;
    std::optional<int> repeats;
    std::optional<Meter> meter;
    std::optional<int> countInBars;
    std::optional<Rest> rest;
    std::optional<double> breathSeconds;
    std::optional<Policy> policy;
    std::optional<MixRule> mix;
    std::map<MidiNote, Combination> byHand;

    void add(CLI::App& app);
    /// Takes the file as a word without an option as well. Call after add().
    void addArgument(CLI::App& app);

    struct Chosen {
        Instrument instrument;
        Drill drill;
        std::optional<TempoRules> rules; ///< the tempo plan that the drill file holds
    };
    /// The instrument and the changed drill. The drill is checked for this instrument.
    [[nodiscard]] Result<Chosen> choose() const;
};

} // namespace valveladder::console
