#pragma once

#include "Findings/Suspect.h"
#include "Findings/Weakness.h"

#include <optional>
#include <span>
#include <vector>

namespace valveladder {

/// How often one finger came last where two valves or more change: direct evidence on it, from what sounded
/// between the notes or from valve sensors. Kept apart from the fits of findWeaknesses(), which never see it.
struct LastFinger {
    Suspect suspect; ///< press or release
    OrderFrom from = OrderFrom::sound;
    int told = 0;          ///< changes in which the finger moved so and an order could be told
    int apart = 0;         ///< of those: fingers came apart by togetherMs or more
    int last = 0;          ///< of those: this finger was among the last
    int takes = 0;         ///< with any of `told`
    double byChance = 0.0; ///< how many `last` would be if the fingers of a change came in any order alike
    Estimate percent;      ///< last of told; exact binomial interval
    std::optional<Estimate> behindMs; ///< median where it came last, its order-statistic interval; nothing
                                      ///< below minObservations
    double p = 1.0;                   ///< one-sided, adjusted for all fingers looked at (Holm)
    bool claimed = false;
};

/// Takes that began longer before the newest weigh less than a quarter in other findings, and are left out
/// here, where counts are exact.
inline constexpr double lastFingerDays = 2.0 * ageHalfLifeDays;

/// Every finger that moved in a change whose order could be told, by sound first, each pressing before
/// releasing. Takes oldest first, of one player on one instrument. Earlier versions told no order by sound:
/// takes of sound before the first in which one was told are left out.
///
/// A claim needs both: that it came last more often than in half of its changes of two valves (m of k where m
/// of k fingers were last), and, where fingers go both down and up in one change, more often than other
/// fingers that go its way, since keys go down and come up by other forces for everybody. Changes of fingers
/// that all go one way need the first alone; the two kinds of change are put together by Fisher's method
/// ("Statistical Methods for Research Workers", 1932). Changes count as independent.
[[nodiscard]] std::vector<LastFinger> lastFingersIn(std::span<const TakeEvidence> takes,
                                                    const FindingLimits& limits = {});

/// Sound and sensors say different things of one finger: the 90 % intervals of how often it was last where
/// fingers came apart do not meet, each of minObservations at least.
[[nodiscard]] bool disagree(const LastFinger& bySound, const LastFinger& bySensors);

/// What the fits of slow and late changes say to direct evidence on a finger.
enum class TimingSays {
    nothing,
    same,         ///< they name it
    couldNotTell, ///< they name others, to which it is a rival or a twin
    another,      ///< they name other fingers alone
    againstLast   ///< they name it, and it came last more seldom than by chance
};

[[nodiscard]] TimingSays timingSays(const LastFinger& finger, const Weaknesses& weaknesses);

/// The fingers pressing or releasing that are claimed to be slow or late.
[[nodiscard]] std::vector<Suspect> fingersNamed(const Weaknesses& weaknesses);

} // namespace valveladder
