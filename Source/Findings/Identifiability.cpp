#include "Findings/Identifiability.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>
#include <tuple>

namespace valveladder {

namespace {

using Eigen::Index;

/// Relative size under which an eigenvalue is rounding and not information: counts are whole numbers, so true
/// ones are far larger.
constexpr double zeroEigenvalue = 1e-9;
constexpr double zeroPart = 1e-6; // of a null direction

Eigen::MatrixXd correlationOf(const Eigen::MatrixXd& information) {
    const Eigen::VectorXd scale = information.diagonal().cwiseSqrt().cwiseInverse();
    return scale.asDiagonal() * information * scale.asDiagonal();
}

/// Rows span the null space, as sparse as elimination makes them: each row one dependency.
Eigen::MatrixXd reducedRows(Eigen::MatrixXd rows) {
    Index pivotRow = 0;
    for (Index column = 0; column < rows.cols() && pivotRow < rows.rows(); ++column) {
        Index largest = 0;
        const double size = rows.col(column).tail(rows.rows() - pivotRow).cwiseAbs().maxCoeff(&largest);
        if (size < zeroPart)
            continue;
        rows.row(pivotRow).swap(rows.row(pivotRow + largest));
        rows.row(pivotRow) /= rows(pivotRow, column);
        for (Index other = 0; other < rows.rows(); ++other)
            if (other != pivotRow)
                rows.row(other) -= rows(other, column) * rows.row(pivotRow);
        ++pivotRow;
    }
    return rows;
}

/// Effects that share a dependency, straight or through others.
std::vector<std::vector<std::size_t>> groupsOf(const Eigen::MatrixXd& dependencies) {
    std::vector<std::set<std::size_t>> groups;
    for (Index row = 0; row < dependencies.rows(); ++row) {
        std::set<std::size_t> group;
        for (Index column = 0; column < dependencies.cols(); ++column)
            if (std::abs(dependencies(row, column)) > zeroPart)
                group.insert(static_cast<std::size_t>(column));
        std::erase_if(groups, [&](const auto& other) {
            const bool meet = std::any_of(other.begin(), other.end(),
                                          [&](std::size_t effect) { return group.contains(effect); });
            if (meet)
                group.insert(other.begin(), other.end());
            return meet;
        });
        groups.push_back(std::move(group));
    }
    std::vector<std::vector<std::size_t>> lists;
    for (const auto& group : groups)
        lists.emplace_back(group.begin(), group.end());
    return lists;
}

std::string list(const std::vector<Suspect>& suspects, bool thumbValve) {
    std::string text;
    for (std::size_t i = 0; i < suspects.size(); ++i)
        text += (i == 0 ? "" : i + 1 == suspects.size() ? " and " : ", ") + suspects[i].name(thumbValve);
    return text;
}

void findDependencies(const std::vector<Suspect>& effects, const Eigen::MatrixXd& information,
                      Identifiability& found) {
    const Eigen::MatrixXd correlation = correlationOf(information);
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(correlation);
    const Eigen::VectorXd& values = eigen.eigenvalues(); // rising
    const double largest = values[values.size() - 1];
    Index missing = 0;
    while (missing < values.size() && values[missing] < zeroEigenvalue * largest)
        ++missing;
    found.rank = static_cast<int>(values.size() - missing);
    found.condition = missing > 0 ? std::numeric_limits<double>::infinity() : std::sqrt(largest / values[0]);
    if (missing > 0) {
        // Directions of the scaled effects; scaling back does not change which take part.
        const Eigen::MatrixXd rows = reducedRows(eigen.eigenvectors().leftCols(missing).transpose());
        for (const auto& group : groupsOf(rows)) {
            std::vector<Suspect> names;
            for (const std::size_t effect : group)
                names.push_back(effects[effect]);
            found.inseparable.push_back(std::move(names));
        }
        return;
    }
    const Eigen::MatrixXd inverse = correlation.inverse();
    for (Index i = 0; i < inverse.rows(); ++i)
        if (inverse(i, i) >= hardlyInflation)
            found.hardly.push_back(effects[static_cast<std::size_t>(i)]);
}

/// Kinds of change, one specimen for each combination pair and use of alternates.
std::vector<ChangeEvidence> kindsOf(std::span<const TakeEvidence> takes) {
    const auto less = [](const ChangeEvidence& a, const ChangeEvidence& b) {
        return std::tie(a.change, a.usualFrom, a.usualTo) < std::tie(b.change, b.usualFrom, b.usualTo);
    };
    std::set<ChangeEvidence, decltype(less)> kinds(less);
    for (const auto& take : takes)
        kinds.insert(take.changes.begin(), take.changes.end());
    return {kinds.begin(), kinds.end()};
}

void findIdentical(std::span<const TakeEvidence> takes, Identifiability& found) {
    const auto kinds = kindsOf(takes);
    std::map<std::vector<bool>, std::vector<Suspect>> byPattern;
    std::vector<std::vector<bool>> order;
    for (const auto& suspect : suspectsIn(kinds)) {
        std::vector<bool> pattern;
        for (const auto& kind : kinds)
            pattern.push_back(suspect.involves(kind));
        auto& same = byPattern[pattern];
        if (same.empty())
            order.push_back(pattern);
        same.push_back(suspect);
    }
    for (const auto& pattern : order)
        if (byPattern[pattern].size() > 1)
            found.identical.push_back(byPattern[pattern]);
}

void putInWords(Identifiability& found, bool thumbValve) {
    for (const auto& group : found.inseparable)
        found.words.push_back(list(group, thumbValve) +
                              " cannot be told apart by what was played: time moved from one to the others "
                              "would give the same changeovers");
    for (const auto& group : found.identical)
        found.words.push_back(list(group, thumbValve) + " took part in exactly the same changes");
    if (!found.neverPlayed.empty())
        found.words.push_back("never played: " + list(found.neverPlayed, thumbValve));
    if (!found.hardly.empty())
        found.words.push_back("hardly told apart: " + list(found.hardly, thumbValve));
}

} // namespace

std::vector<Suspect> fingerEffects(int valves) {
    std::vector<Suspect> effects;
    for (const auto kind : {SuspectKind::press, SuspectKind::release})
        for (int finger = 1; finger <= valves; ++finger)
            effects.push_back({kind, finger, {}, {}, {}});
    return effects;
}

Eigen::MatrixXd informationOn(const std::vector<Suspect>& suspects,
                              const std::vector<ChangeEvidence>& oneTake) {
    const auto size = static_cast<Index>(suspects.size());
    Eigen::MatrixXd information = Eigen::MatrixXd::Zero(size, size);
    Eigen::VectorXd sum = Eigen::VectorXd::Zero(size);
    Eigen::VectorXd row(size);
    for (const auto& change : oneTake) {
        for (Index s = 0; s < size; ++s)
            row[s] = suspects[static_cast<std::size_t>(s)].involves(change) ? 1.0 : 0.0;
        information.noalias() += row * row.transpose();
        sum += row;
    }
    if (!oneTake.empty())
        information -= sum * sum.transpose() / static_cast<double>(oneTake.size());
    return information;
}

Eigen::MatrixXd informationOn(const std::vector<Suspect>& suspects, std::span<const TakeEvidence> takes) {
    const auto size = static_cast<Index>(suspects.size());
    Eigen::MatrixXd information = Eigen::MatrixXd::Zero(size, size);
    for (const auto& take : takes)
        information += informationOn(suspects, take.changes);
    return information;
}

Identifiability identifiability(std::span<const TakeEvidence> takes, int valves, bool thumbValve) {
    Identifiability found;
    const auto all = fingerEffects(valves);
    const Eigen::MatrixXd information = informationOn(all, takes);
    std::vector<Suspect> played;
    std::vector<Index> places;
    const auto kinds = kindsOf(takes);
    for (std::size_t i = 0; i < all.size(); ++i) {
        const auto place = static_cast<Index>(i);
        const bool occurs =
            std::any_of(kinds.begin(), kinds.end(), [&](const auto& kind) { return all[i].involves(kind); });
        if (!occurs) {
            found.neverPlayed.push_back(all[i]);
        } else if (information(place, place) < zeroPart) {
            found.inseparable.push_back({all[i]}); // in every change alike: one with the player's own level
        } else {
            played.push_back(all[i]);
            places.push_back(place);
        }
    }
    found.effects = static_cast<int>(played.size() + found.inseparable.size());
    if (!played.empty())
        findDependencies(played, information(places, places), found);
    findIdentical(takes, found);
    putInWords(found, thumbValve);
    return found;
}

} // namespace valveladder
