#pragma once

#include "Findings/Observations.h"
#include "Findings/Suspect.h"

#include <cstdint>
#include <span>
#include <string>
#include <vector>

namespace valveladder {

/// A measured weakness, relative to the player's own other changes.
struct Finding {
    Complaint complaint = Complaint::slow;
    Suspect suspect;
    Estimate effect;     ///< slow, late, uneven: ms more than the player's other changes; wrong: ratio of the
                         ///< odds of an error. n = changes of this suspect that were measured
    double others = 0.0; ///< slow: median changeover of the other changes, ms; late: 0; uneven: their spread,
                         ///< ms; wrong: their share of errors
    int takes = 0;       ///< takes in which the suspect was measured
    double t = 0.0;      ///< 0 for wrong
    double p = 1.0;      ///< adjusted for all suspects of this complaint
    bool claimed = false;
    std::vector<Suspect> rivals;      ///< explain what was played nearly as well
    std::vector<Suspect> twins;       ///< took part in the same changes: just as well
    std::vector<Finding> alsoShownBy; ///< the same cause by other measures, or in one of its changes

    bool operator==(const Finding&) const = default;
};

/// When a finding is claimed. The alphas add up to the 5 % in which a player without any weakness may
/// hear of one.
struct FindingLimits {
    double alphaSlow = 0.036;
    double alphaLate = 0.003;
    double alphaUneven = 0.002;
    double alphaWrong = 0.002;
    double alphaPast = 0.003;       ///< slow changes of the past, whose trend is told
    double alphaTendencies = 0.002; ///< carry-over and tiring together
    double alphaLast = 0.002;       ///< fingers that come last (LastFingers.h)
    double leastMs = 5.0;           ///< smaller is under what is heard: 6 ms for intervals under 240 ms
                                    ///< (Friberg & Sundberg, JASA 98, 1995)
    int leastChanges = 4;           ///< of a suspect
    int leastObservations = 24;     ///< of all changes together; fewer are too few to say anything
    double rivalOdds = 10.0; ///< a suspect whose likelihood is within this factor of the best is a rival
    int mostFindings = 5;    ///< of one complaint
    /// Of longer logs every n-th take is looked at, so that about so many changes are: more would make
    /// figures sharper than a tenth of a millisecond.
    int mostChanges = 200000;
};

struct Weaknesses {
    std::vector<Finding> findings; ///< claimed ones, the surest first: slow, late, uneven, wrong
    std::vector<Finding> leads; ///< not claimed: the likeliest, so that a drill can settle them; never shown
                                ///< as findings
    bool enough = false;        ///< enough was played to say something
    int takes = 0;
    int changes = 0;     ///< asked for in these takes
    int changeovers = 0; ///< of them measured
    int least = 0;       ///< so many of each are needed to say something of them

    /// Enough was played, but too few changeovers were measured.
    [[nodiscard]] bool untimed() const { return enough && changeovers < least; }
};

/// Every n-th take, the newest among them, so that at most about `mostChanges` changes remain.
[[nodiscard]] std::vector<TakeEvidence> thinned(std::span<const TakeEvidence> takes, int mostChanges);

inline constexpr std::uint64_t findingsSeed = 20160201;

/// All weaknesses in takes of one player on one instrument. A pure function: the same takes give the same
/// findings.
[[nodiscard]] Weaknesses findWeaknesses(std::span<const TakeEvidence> takes, const FindingLimits& limits = {},
                                        std::uint64_t seed = findingsSeed);

} // namespace valveladder
