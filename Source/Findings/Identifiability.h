#pragma once

#include "Findings/Suspect.h"

#include <Eigen/Dense>

#include <span>
#include <string>
#include <vector>

namespace valveladder {

/// What can be told apart from what was played, before any measure is looked at.
struct Identifiability {
    int effects = 0;        ///< finger effects that were played: a press and a release for each finger moved
    int rank = 0;           ///< of them, how many independent directions
    double condition = 1.0; ///< of the played effects' correlation; large = hardly told apart, infinite when
                            ///< the rank falls short
    /// Finger effects of which only sums or differences are known: any of a group may stand for the others.
    std::vector<std::vector<Suspect>> inseparable;
    /// Suspects that took part in exactly the same changes.
    std::vector<std::vector<Suspect>> identical;
    std::vector<Suspect> neverPlayed; ///< finger effects that occur in no change, of the instrument's valves
    std::vector<Suspect> hardly; ///< told apart, but their uncertainty is swollen tenfold or more (variance
                                 ///< inflation)
    std::vector<std::string> words;

    [[nodiscard]] bool complete() const { return inseparable.empty() && neverPlayed.empty(); }
};

/// `valves` 3 or 4: what the instrument has.
[[nodiscard]] Identifiability identifiability(std::span<const TakeEvidence> takes, int valves,
                                              bool thumbValve = false);

/// Press and release of fingers 1..valves, in that order.
[[nodiscard]] std::vector<Suspect> fingerEffects(int valves);

/// Information on `suspects` in the changes of takes: sum over takes of x x', x centred within its take.
[[nodiscard]] Eigen::MatrixXd informationOn(const std::vector<Suspect>& suspects,
                                            std::span<const TakeEvidence> takes);
[[nodiscard]] Eigen::MatrixXd informationOn(const std::vector<Suspect>& suspects,
                                            const std::vector<ChangeEvidence>& oneTake);

/// Variance inflation from which an effect is hardly told apart; 10 is the usual rule of thumb (Marquardt,
/// "Generalized Inverses, Ridge Regression, ...", Technometrics 12, 1970).
inline constexpr double hardlyInflation = 10.0;

} // namespace valveladder
