#pragma once

#include "Findings/Circumstances.h"
#include "Findings/Suspect.h"

#include <Eigen/Dense>

#include <optional>
#include <span>
#include <vector>

namespace valveladder {

/// What can be told apart from what was played, before any measure is looked at: by the columns of the fit
/// itself, circumstances and baseline included, in which suspects are taken up one at a time.
struct Identifiability {
    /// Finger effects whose columns, beyond the circumstances, are the same but for a positive factor: either
    /// being slow may stand for the other. A group of one is wholly explained by circumstances.
    std::vector<std::vector<Suspect>> inseparable;
    /// For groups of one: the circumstance it always comes with, e.g. the jump to another partial; none where
    /// it takes several. As many as `inseparable`; none for groups of two and more.
    std::vector<std::optional<circumstances::Term>> explainedBy;
    /// Told apart one at a time, but were several of a group weak at once, they could hide one another.
    std::vector<std::vector<Suspect>> jointly;
    int effects = 0;        ///< finger effects that were played: a press and a release for each finger moved
    int rank = 0;           ///< of them, how many independent directions, each finger against the others
    double condition = 1.0; ///< of the played effects' correlation beyond the circumstances; large = hardly
                            ///< told apart, infinite when the rank falls short
    /// Suspects that took part in exactly the same changes.
    std::vector<std::vector<Suspect>> identical;
    std::vector<Suspect> neverPlayed; ///< finger effects that occur in no change, of the instrument's valves
    std::vector<Suspect> hardly; ///< told apart, but their uncertainty is swollen tenfold or more (variance
                                 ///< inflation)

    [[nodiscard]] bool complete() const { return inseparable.empty() && neverPlayed.empty(); }
};

/// `valves` 3 or 4: what the instrument has. Takes with changeovers are judged by what changeovers can tell,
/// the others by what onsets can, of which each segment's line is lost.
[[nodiscard]] Identifiability identifiability(std::span<const TakeEvidence> takes, int valves);

/// Press and release of fingers 1..valves, in that order.
[[nodiscard]] std::vector<Suspect> fingerEffects(int valves);

/// Information on suspects in changes of one take: sums that grow as changes are added.
struct TakeInformation {
    Eigen::MatrixXd squares; ///< x x', x being 1 for each suspect that a change involves
    Eigen::VectorXd sum;     ///< of x
    double count = 0.0;      ///< of changes

    /// With x centred within the take.
    [[nodiscard]] Eigen::MatrixXd centred() const;
};
[[nodiscard]] TakeInformation informationIn(const std::vector<Suspect>& suspects,
                                            const std::vector<ChangeEvidence>& oneTake);
/// The same of several takes, each centred.
[[nodiscard]] Eigen::MatrixXd informationOn(const std::vector<Suspect>& suspects,
                                            std::span<const TakeEvidence> takes);

/// Variance inflation from which an effect is hardly told apart; 10 is the usual rule of thumb (Marquardt,
/// "Generalized Inverses, Ridge Regression, ...", Technometrics 12, 1970).
inline constexpr double hardlyInflation = 10.0;

} // namespace valveladder
