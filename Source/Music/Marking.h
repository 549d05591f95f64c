#pragma once

#include "Base/Problem.h"
#include "Ladder/Drill.h"
#include "Music/Part.h"
#include "Tempo/TempoPlan.h"
#include "Valves/Change.h"
#include "Valves/Fingering.h"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace valveladder {

/// What a change is predicted to take, milliseconds: from the player's own findings, or from fingers moved.
using ChangeMs = std::function<double(const Change&)>;

/// Without findings: 0 for no finger, else 20 ms and 10 ms more for each finger after the first, and half as
/// much again where fingers press and release at once. Only the ratios count. That delays are tens of
/// milliseconds and grow with the number of fingers is measured on flutes (Almeida, Chow, Smith, Wolfe,
/// arXiv:0903.4012); the figures themselves are our choice, no source.
[[nodiscard]] double msFromFingersMoved(const Change& change);

/// How a fingering path is judged. The cost of a change is what it takes over the time there is for it, from
/// onset to onset; the cost of a fingering is what it strays from the usual one in rank and from equal
/// temperament in cents, so that alternates pay only where notes are quick.
struct PathCosts {
    ChangeMs changeMs = msFromFingersMoved;
    double perRank = 0.04;      ///< each place after the usual choice
    double freeCents = 15.0;    ///< out of tune up to here costs nothing
    double perCent = 0.01;      ///< each cent beyond
    double graceSeconds = 0.08; ///< time taken for a grace note's change; our choice, no source
    double sideChange = 0.0;    ///< added where a double horn changes sides
};

/// A note of the part with the fingering chosen for it, and the change that leads into it.
struct MarkedNote {
    int note = 0; ///< into Part::notes
    Fingering fingering;
    int rank = 0;         ///< 0 = the usual choice
    Change change;        ///< into this note; from == to for the first
    double seconds = 0.0; ///< from the onset before to this one; 0 for the first
    double cost = 0.0;    ///< of the change

    bool operator==(const MarkedNote&) const = default;
};

struct Marking {
    std::vector<MarkedNote> notes;    ///< those that the instrument can sound
    double cost = 0.0;                ///< of the whole path
    std::vector<std::string> remarks; ///< notes that the instrument cannot sound
};

/// Cost of fingering `note` so; the part of a path's cost that does not depend on its neighbours.
[[nodiscard]] double fingeringCost(const Fingering& fingering, int rank, const PathCosts& costs);
/// Cost of a change with `seconds` from onset to onset.
[[nodiscard]] double changeCost(const Fingering& from, const Fingering& to, double seconds,
                                const PathCosts& costs);

/// The cheapest path through all fingerings of all notes (dynamic programming, exact). Among equals the usual
/// choices win. `tempoFactor` scales the part's own tempos.
[[nodiscard]] Marking markPart(const Part& part, const Instrument& instrument, const PathCosts& costs = {},
                               double tempoFactor = 1.0);

/// A place that is worth practice: one change, both ways, in bars of the file next to each other, however
/// often repeats lead through it.
struct Spot {
    Change change;  ///< the way it goes first
    int times = 0;  ///< both ways, as written
    int passes = 0; ///< how often it is played: the most that any of its changes is
    int firstBar = 0;
    int lastBar = 0;               ///< into Part::bars, inclusive: the first time that they are played
    std::vector<int> notes;        ///< into Marking::notes, those that the change leads into, as played
    double cost = 0.0;             ///< summed over all that is played
    double changesPerSecond = 0.0; ///< at the quickest of them
    std::optional<double> limit;   ///< the player's own, changes a second, where known
    std::string words; ///< "bars 17-18: 2-3 to 1-3, six times, played twice, at 12 changes a second"

    /// Of the time that there is for one of its changes, how much it takes, in the mean; 1 = all.
    [[nodiscard]] double timeShare() const;
};

/// The player's limit for a change, changes a second; nothing where it is not known.
using ChangeLimit = std::function<std::optional<double>(const Change&)>;

/// A change that takes a smaller share of the time there is for it is not awkward, however often it comes;
/// our choice, no source.
inline constexpr double leastSpotCost = 0.2;

/// All spots, the costliest first (cost of one change times how often it is played). Changes that cost less
/// than leastSpotCost each, or move no finger, are none.
[[nodiscard]] std::vector<Spot> rankedSpots(const Part& part, const Marking& marking,
                                            const Instrument& instrument, const ChangeLimit& limit = {});

/// A drill from a spot in one step: the change as a cell of two and of three notes, the notes around it as a
/// cell of four, then the bar, each in the four segments; fingered as marked; in eighths, or in sixteenths
/// where the piece's changes come quicker than eighths at 120. `base` gives all else.
[[nodiscard]] Result<Drill> spotDrill(const Part& part, const Marking& marking, const Spot& spot,
                                      const Instrument& instrument, Drill base = {});

/// The tempo plan that leads to the spot as the piece has it: the ceiling is the piece's own speed in the
/// drill's note value, the start half of it, or four fifths of the player's limit where that is known and
/// lower. Both shares are our choice, no source. `base` gives all else.
[[nodiscard]] TempoRules spotRules(const Spot& spot, const Drill& drill, TempoRules base = {});

} // namespace valveladder
