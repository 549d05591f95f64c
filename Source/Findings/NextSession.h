#pragma once

#include "Findings/SeparatingDrill.h"
#include "Findings/Weakness.h"

#include <string>
#include <vector>

namespace valveladder {

struct SessionRequest {
    double minutes = 20.0;             ///< rests included, 1..180
    double bpm = 60.0;                 ///< from the plan; nothing in the session is faster
    Drill ladder;                      ///< the player's own ladder
    std::string name = "Next session"; ///< of the session's drill
    double restAfterMinutes = 25.0;
    double restMinutes = 5.0;
};

/// One thing to play: a cell or a rung.
struct SessionItem {
    Drill drill; ///< loadable on its own
    double bpm = 60.0;
    double seconds = 0.0; ///< of playing
    double restSecondsAfter = 0.0;
    std::string why;
};

struct PracticeSession {
    std::vector<SessionItem> items;
    Drill drill; ///< all items one after another as one drill, to load in one step
    double bpm = 60.0;
    double minutes = 0.0;
    std::vector<std::string> remarks;
};

namespace nextSession {
/// Short rests between repetitions give gains (Bonstrup et al., npj Science of Learning, 2020); waning
/// inhibition is the rival account.
inline constexpr double shortRestSeconds = 10.0;
inline constexpr int cellRepeats = 4;
inline constexpr int mostWeakCells = 6;
} // namespace nextSession

/// Weak changes first in mind, mixed with the ladder's rungs, fourth-valve and 1-3 fingerings in turn. Leads
/// serve where nothing is claimed; `settle`, if any, is played once in each round.
[[nodiscard]] PracticeSession planSession(const SessionRequest& request, const Instrument& instrument,
                                          const Weaknesses& weaknesses,
                                          const std::vector<FingeredCell>& settle = {});

/// Cells whose changes the suspect takes part in, those that lie within the limits and nearest to the usual
/// fingerings first; at most `most`.
[[nodiscard]] std::vector<FingeredCell> cellsFor(const Suspect& suspect, const Instrument& instrument,
                                                 const SeparatingLimits& limits, int most);

} // namespace valveladder
