#pragma once

#include "Listening/Performance.h"
#include "Music/Marking.h"
#include "Words/PartWords.h"

#include <map>
#include <optional>
#include <vector>

namespace valveladder {

/// What a player's takes say about each change: a source of costs and limits for marking a part. Fill it from
/// the log, newest takes first or last alike.
class OwnChanges {
public:
    /// A change heard less often than this says nothing of its own; our choice, no source.
    static constexpr std::size_t fewest = 5;
    /// A changeover that fills more than this share of a note leaves too little of the note; our choice, no
    /// source.
    static constexpr double largestShare = 0.5;

    /// Takes in the changeovers that were measured.
    void add(const Performance& take);

    /// Median changeover, ms; of the way back where this way was heard too seldom; nothing where both were.
    [[nodiscard]] std::optional<double> medianMs(const Change& change) const;
    /// Changes heard often enough, each way by itself.
    [[nodiscard]] int known() const;
    /// Changes of valves that were logged, whether their changeover could be measured or not.
    [[nodiscard]] int logged() const { return loggedChanges; }
    /// Of a change that was heard, its median. Of any other, what its fingers predict, scaled by how this
    /// player's own changes compare with that prediction.
    [[nodiscard]] ChangeMs costs() const;
    /// Changes a second at which the median changeover fills largestShare of the time there is.
    [[nodiscard]] ChangeLimit limits() const;

private:
    [[nodiscard]] std::optional<double> oneWayMs(const Change& change) const;
    /// Median over the known changes of own changeover over the fingers' prediction; 1 where none is known.
    [[nodiscard]] double scale() const;

    std::map<Change, std::vector<double>> changeovers;
    int loggedChanges = 0;
};

/// A part that is marked by a player's own changes as far as they are known.
struct OwnMarking {
    PathCosts costs; ///< by which the path was chosen
    Marking marking;
    std::vector<Spot> spots; ///< the costliest first
    CostBasis basis;         ///< what the costs go by
};

/// `tempoFactor` scales the part's own tempos.
[[nodiscard]] OwnMarking markByOwn(const Part& part, const Instrument& instrument, const OwnChanges& own,
                                   double tempoFactor = 1.0);

} // namespace valveladder
