#pragma once

#include "Findings/SeparatingDrill.h"
#include "Findings/Weakness.h"

#include <string>
#include <variant>
#include <vector>

namespace valveladder {

struct SessionRequest {
    static constexpr double leastMinutes = 1.0;
    static constexpr double mostMinutes = 180.0;
    static constexpr double usualMinutes = 20.0;

    double minutes = usualMinutes;     ///< rests included, leastMinutes..mostMinutes
    double bpm = 60.0;                 ///< from the plan; nothing in the session is faster
    Drill ladder;                      ///< the player's own ladder
    std::string name = "Next session"; ///< of the session's drill
    double restAfterMinutes = 25.0;
    double restMinutes = 5.0;
};

/// A rung of the ladder as it comes in a session.
struct RungRun {
    enum class Way { oneWay, upAndDown, downAndUp };
    enum class Fingering { own, fourthThereOneThreeBack, fourth, oneThree };
    std::string label;
    Way way = Way::oneWay;
    Fingering fingering = Fingering::own;
};

/// What an item is for.
struct SessionPurpose {
    enum class Kind {
        warmUp,
        weakness,  ///< a claimed one, of `suspect`
        likeliest, ///< where nothing is claimed: of `suspect`
        tellApart, ///< what takes cannot tell apart yet
        intoTheRun ///< what was practised alone is put back
    };
    Kind kind = Kind::intoTheRun;
    Suspect suspect{};
};

/// One thing to play: a cell or a rung. Times are those of the session's drill at its tempo.
struct SessionItem {
    int thing = 0;       ///< 0 = the warm-up, else which thing of the round, from 1
    int round = 0;       ///< 0 = the warm-up, else from 1
    Drill drill;         ///< this one alone, loadable as it is; it has one rung
    bool isRung = false; ///< of the ladder; another one each round
    double bpm = 60.0;
    double seconds = 0.0;                     ///< of playing, rests between its segments included
    double restSecondsAfter = 0.0;            ///< until the next item begins, 0 after the last
    std::variant<FingeredCell, RungRun> what; ///< of a cell its notes once; they are played back and forth
    SessionPurpose why;
};

/// A warm-up, then rounds of the same few things.
struct PracticeSession {
    Instrument instrument;          ///< that it is for
    std::vector<SessionItem> items; ///< in the order played
    int things = 0;                 ///< in each round
    int rounds = 0;
    Drill drill; ///< all items one after another as one drill, to load in one step; same rungs, same order
    double bpm = 60.0;
    double minutes = 0.0; ///< of the whole drill, count-in and rests included
    double minutesAsked = 0.0;
    bool mixesCells = false; ///< weak changes come back mixed rather than in blocks
};

namespace nextSession {
/// Short rests between repetitions give gains (Bonstrup et al., npj Science of Learning, 2020); waning
/// inhibition is the rival account.
inline constexpr double shortRestSeconds = 10.0;
inline constexpr int cellRepeats = 4;
inline constexpr int mostThings = 4;
} // namespace nextSession

/// A warm-up and rounds of three or four things: cells with the weak changes, a cell of `settle` if any, and
/// a rung of the ladder to put it back into the run, in fourth-valve and 1-3 fingerings where the instrument
/// has both. Leads serve where nothing is claimed. Whole rounds only, as many as fit; with few minutes fewer
/// things. No cell comes twice in a round, and in each some valve moves.
[[nodiscard]] PracticeSession planSession(const SessionRequest& request, const Instrument& instrument,
                                          const Weaknesses& weaknesses,
                                          const std::vector<FingeredCell>& settle = {});

/// Cells whose changes the suspect takes part in: those within one partial and stepwise first, then the
/// usual fingerings, then the narrow ones; at most `most`.
[[nodiscard]] std::vector<FingeredCell> cellsFor(const Suspect& suspect, const Instrument& instrument,
                                                 const SeparatingLimits& limits, int most);

} // namespace valveladder
