#pragma once

#include "Findings/Findings.h"
#include "Support/SimulatedPlayer.h"

#include <string>
#include <vector>

namespace valveladder::simulated {

/// How many of something to try: `full` with VALVE_LADDER_FULL set, else `quick`, and a tenth of that (at
/// least `least`) under sanitizers, which slow everything by an order.
[[nodiscard]] int trialSize(int full, int quick, int least = 4);
[[nodiscard]] bool fullSize();

/// Four valves, treble clef: the instrument of the trials.
[[nodiscard]] const Instrument& trialInstrument();

/// Suspects that the drill plays at least `least` times a take.
[[nodiscard]] std::vector<Suspect> plantable(const Drill& drill, const Instrument& instrument, int least);

/// What became of one planted weakness.
struct TrialOutcome {
    std::string planted;
    bool named = false;   ///< the first finding, claimed, names it
    bool covered = false; ///< and its interval holds the planted time
};

/// `players` players, each with one weakness, the suspects in turn. Seeds are `seed`, `seed` + 1, ...
[[nodiscard]] std::vector<TrialOutcome> trials(const Drill& drill, const std::vector<Suspect>& suspects,
                                               double extraMs, int takes, int players, std::uint64_t seed);

[[nodiscard]] int countNamed(const std::vector<TrialOutcome>& outcomes);

/// Adds a line of figures to the test's output and, at full size, to findings-figures.txt in the working
/// directory.
void report(const std::string& line);

} // namespace valveladder::simulated
