#include "Findings/Identifiability.h"

#include "Findings/EffectModel.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>
#include <tuple>

namespace valveladder {

namespace {

using Eigen::Index;

/// Relative size under which what is left of a column is rounding and not information.
constexpr double rounding = 1e-9;
constexpr double zeroPart = 1e-6; // of a null direction
/// Least sum of squares that a column is scaled by: one of zeros stays one, and no NaN.
constexpr double leastColumnSquares = 1e-12;

/// Columns' products once those of `others` are taken out of both (Schur complement).
Eigen::MatrixXd beyond(const EffectModel& model, const Eigen::MatrixXd& others,
                       const Eigen::MatrixXd& columns) {
    Eigen::MatrixXd wide(columns.rows(), others.cols() + columns.cols());
    wide << others, columns;
    const Eigen::MatrixXd gram = model.gram(wide);
    Eigen::VectorXd scale =
        gram.diagonal().head(others.cols()).cwiseMax(leastColumnSquares).cwiseSqrt().cwiseInverse();
    const Eigen::MatrixXd inner =
        scale.asDiagonal() * gram.topLeftCorner(others.cols(), others.cols()) * scale.asDiagonal();
    const Eigen::MatrixXd across = scale.asDiagonal() * gram.topRightCorner(others.cols(), columns.cols());
    Eigen::CompleteOrthogonalDecomposition<Eigen::MatrixXd> solver;
    solver.setThreshold(rounding);
    solver.compute(inner);
    return gram.bottomRightCorner(columns.cols(), columns.cols()) - across.transpose() * solver.solve(across);
}

/// All but the number of fingers moved, which is the sum of the finger effects themselves: without it, what
/// is left of a sum of all fingers is what they have in common.
Eigen::MatrixXd withoutFingersMoved(const Eigen::MatrixXd& terms) {
    Eigen::MatrixXd rest(terms.rows(), terms.cols() - 1);
    rest << terms.leftCols(circumstances::fingersMoved),
        terms.rightCols(terms.cols() - circumstances::fingersMoved - 1);
    return rest;
}

/// The same circumstances, pitch told from the middle of what is played: far from it a pitch and its square
/// are nearly one column, and what differs would drown in rounding.
Eigen::MatrixXd centred(Eigen::MatrixXd terms) {
    if (terms.rows() == 0)
        return terms;
    const auto pitch = terms.col(circumstances::pitch);
    const double middle = (pitch.minCoeff() + pitch.maxCoeff()) / 2.0;
    terms.col(circumstances::pitch).array() -= middle;
    terms.col(circumstances::pitchSquared) = terms.col(circumstances::pitch).cwiseAbs2();
    return terms;
}

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

/// The fit of all takes asked for, and the finger effects that were played in it.
struct Asked {
    ObservationTable table;
    EffectModel model;
    std::vector<Suspect> effects;
    Eigen::MatrixXd columns; ///< of the effects
    Eigen::MatrixXd terms;   ///< circumstances

    Asked(std::span<const TakeEvidence> takes, Baseline baseline)
        : table(observeAsked(takes, baseline)), model(table, {}) {}
};

/// The circumstance that alone explains the column, if one does.
std::optional<circumstances::Term> explanationOf(const Asked& asked, Index effect) {
    const Eigen::MatrixXd column = asked.columns.col(effect);
    const double whole = asked.model.gram(column)(0, 0);
    for (Index term = 0; term < asked.terms.cols(); ++term)
        if (beyond(asked.model, asked.terms.col(term), column)(0, 0) < rounding * whole)
            return static_cast<circumstances::Term>(term);
    return std::nullopt;
}

/// Groups of one (explained) and of more (parallel beyond the circumstances).
void findInseparable(const Asked& asked, Identifiability& found) {
    const Eigen::MatrixXd left = beyond(asked.model, asked.terms, asked.columns);
    const Eigen::VectorXd whole = asked.model.gram(asked.columns).diagonal();
    std::vector<bool> done(asked.effects.size(), false);
    for (Index i = 0; i < left.rows(); ++i) {
        const auto first = static_cast<std::size_t>(i);
        if (done[first])
            continue;
        std::vector<Suspect> group{asked.effects[first]};
        const bool explained = left(i, i) <= rounding * whole[i];
        for (Index j = i + 1; j < left.rows() && !explained; ++j) {
            const double apart = left(j, j) - left(i, j) * left(i, j) / left(i, i);
            const bool opposed =
                left(i, j) < 0.0; // one slow looks like the other quick: not the same weakness
            if (left(j, j) <= rounding * whole[j] || apart > rounding * whole[j] || opposed)
                continue;
            done[static_cast<std::size_t>(j)] = true;
            group.push_back(asked.effects[static_cast<std::size_t>(j)]);
        }
        if (!explained && group.size() == 1)
            continue;
        found.inseparable.push_back(std::move(group));
        found.explainedBy.push_back(explained ? explanationOf(asked, i) : std::nullopt);
    }
}

void findDependencies(const Asked& asked, Identifiability& found) {
    const Eigen::MatrixXd information = beyond(asked.model, withoutFingersMoved(asked.terms), asked.columns);
    const Eigen::VectorXd whole = asked.model.gram(asked.columns).diagonal();
    const Eigen::VectorXd scale = whole.cwiseMax(leastColumnSquares).cwiseSqrt().cwiseInverse();
    const Eigen::MatrixXd scaled = scale.asDiagonal() * information * scale.asDiagonal();
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(scaled);
    const Eigen::VectorXd& values = eigen.eigenvalues(); // rising
    Index missing = 0;
    while (missing < values.size() && values[missing] < rounding)
        ++missing;
    found.rank = static_cast<int>(values.size() - missing);
    if (missing > 0) {
        found.condition = std::numeric_limits<double>::infinity();
        const Eigen::MatrixXd rows = reducedRows(eigen.eigenvectors().leftCols(missing).transpose());
        for (const auto& group : groupsOf(rows)) {
            std::vector<Suspect> names;
            for (const std::size_t effect : group)
                names.push_back(asked.effects[effect]);
            if (names.size() > 1 && std::ranges::count(found.inseparable, names) == 0)
                found.jointly.push_back(std::move(names));
        }
        return;
    }
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> correlation(correlationOf(information));
    found.condition = std::sqrt(correlation.eigenvalues()[values.size() - 1] / correlation.eigenvalues()[0]);
    const Eigen::MatrixXd inverse = scaled.inverse();
    for (Index i = 0; i < inverse.rows(); ++i)
        if (inverse(i, i) >= hardlyInflation)
            found.hardly.push_back(asked.effects[static_cast<std::size_t>(i)]);
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

} // namespace

std::vector<Suspect> fingerEffects(int valves) {
    std::vector<Suspect> effects;
    for (const auto kind : {SuspectKind::press, SuspectKind::release})
        for (int finger = 1; finger <= valves; ++finger)
            effects.push_back({kind, finger, {}, {}, {}});
    return effects;
}

Eigen::MatrixXd TakeInformation::centred() const {
    return count > 0.0 ? Eigen::MatrixXd(squares - sum * sum.transpose() / count) : squares;
}

TakeInformation informationIn(const std::vector<Suspect>& suspects,
                              const std::vector<ChangeEvidence>& oneTake) {
    const auto size = static_cast<Index>(suspects.size());
    TakeInformation information{Eigen::MatrixXd::Zero(size, size), Eigen::VectorXd::Zero(size), 0.0};
    Eigen::VectorXd row(size);
    for (const auto& change : oneTake) {
        for (Index s = 0; s < size; ++s)
            row[s] = suspects[static_cast<std::size_t>(s)].involves(change) ? 1.0 : 0.0;
        information.squares.noalias() += row * row.transpose();
        information.sum += row;
        information.count += 1.0;
    }
    return information;
}

Eigen::MatrixXd informationOn(const std::vector<Suspect>& suspects, std::span<const TakeEvidence> takes) {
    const auto size = static_cast<Index>(suspects.size());
    Eigen::MatrixXd information = Eigen::MatrixXd::Zero(size, size);
    for (const auto& take : takes)
        information += informationIn(suspects, take.changes).centred();
    return information;
}

namespace {

bool askTheSame(const TakeEvidence& a, const TakeEvidence& b) {
    return std::ranges::equal(a.changes, b.changes, [](const ChangeEvidence& x, const ChangeEvidence& y) {
        return x.change == y.change && x.written == y.written && x.ticks == y.ticks && x.span == y.span &&
               x.usualTo == y.usualTo && x.sinceAccent == y.sinceAccent && x.touch == y.touch &&
               x.place == y.place;
    });
}

/// The takes without those that ask for the same as one before: they tell nothing more apart.
std::vector<TakeEvidence> different(std::span<const TakeEvidence> takes) {
    std::vector<TakeEvidence> kept;
    for (const auto& take : takes)
        if (std::none_of(kept.rbegin(), kept.rend(), [&](const auto& one) { return askTheSame(one, take); }))
            kept.push_back(take);
    return kept;
}

} // namespace

Identifiability identifiability(std::span<const TakeEvidence> all, int valves) {
    Identifiability found;
    const auto takes = different(all);
    const bool timed = std::ranges::any_of(all, [](const TakeEvidence& take) {
        return std::ranges::any_of(
            take.changes, [](const ChangeEvidence& change) { return change.changeoverMs.has_value(); });
    });
    Asked asked(takes, timed ? Baseline::takeLevel : Baseline::segmentLine);
    for (const auto& effect : fingerEffects(valves)) {
        const bool occurs =
            std::ranges::any_of(asked.table.kinds, [&](const auto& kind) { return effect.involves(kind); });
        (occurs ? asked.effects : found.neverPlayed).push_back(effect);
    }
    found.effects = static_cast<int>(asked.effects.size());
    if (!asked.effects.empty()) {
        asked.columns = columnsOf(asked.table.kinds, asked.effects);
        asked.terms = centred(circumstancesOf(asked.table.kinds));
        findInseparable(asked, found);
        findDependencies(asked, found);
    }
    findIdentical(takes, found);
    return found;
}

} // namespace valveladder
