#include "Findings/EffectFit.h"

#include "Findings/Statistics.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace valveladder {

namespace circumstances {

Eigen::RowVectorXd row(const ChangeEvidence& kind) {
    Eigen::RowVectorXd terms(count);
    terms << (kind.touch == Touch::relaxed ? 1.0 : 0.0), (kind.place == RhythmPlace::longNote ? 1.0 : 0.0),
        (kind.place == RhythmPlace::shortNote ? 1.0 : 0.0), static_cast<double>(kind.change.fingersMoved()),
        (kind.interval < 0 ? 1.0 : 0.0), static_cast<double>(std::abs(kind.interval)),
        static_cast<double>(std::abs(kind.partialJump));
    return terms;
}

const char* name(int term) {
    constexpr const char* names[count] = {"relaxed touch",           "long notes", "short notes",
                                          "number of fingers moved", "going down", "interval",
                                          "jump to another partial"};
    return names[term];
}

} // namespace circumstances

namespace {

constexpr int mostHoldRounds = 6;
constexpr double settledAt = 0.01; // of the residuals' scale: no effect moves by more
constexpr int maxScaleSample = 100000;

std::size_t at(int index) {
    return static_cast<std::size_t>(index);
}

double medianOf(const std::vector<double>& values) {
    return quantile(values, 0.5);
}

/// 1.4826 * median |residual|, of at most maxScaleSample of them spread evenly.
double scaleOf(const std::vector<double>& residuals) {
    const std::size_t step = 1 + residuals.size() / maxScaleSample;
    std::vector<double> sizes;
    sizes.reserve(residuals.size() / step + 1);
    for (std::size_t i = 0; i < residuals.size(); i += step)
        sizes.push_back(std::abs(residuals[i]));
    return 1.4826 * quantile(std::move(sizes), 0.5);
}

} // namespace

EffectFit::EffectFit(const ObservationTable& observations, const Eigen::MatrixXd& columns,
                     const std::vector<double>& y)
    : table(observations),
      design(static_cast<Eigen::Index>(observations.kinds.size()), circumstances::count + columns.cols()),
      held(y), residuals(y.size()), beta(Eigen::VectorXd::Zero(design.cols())) {
    for (std::size_t k = 0; k < table.kinds.size(); ++k)
        design.row(static_cast<Eigen::Index>(k)).head(circumstances::count) =
            circumstances::row(table.kinds[k]);
    design.rightCols(columns.cols()) = columns;
    for (const auto& take : table.takes) {
        const auto begin = y.begin() + take.firstObservation;
        const double middle = medianOf({begin, begin + take.observationCount});
        for (int i = 0; i < take.observationCount; ++i)
            residuals[at(take.firstObservation + i)] = y[at(take.firstObservation + i)] - middle;
    }
    for (int round = 0; round < mostHoldRounds; ++round) {
        const double limit = holdResiduals(y);
        const Eigen::VectorXd last = beta;
        beta = solve(momentsOf(design));
        const bool settled =
            round > 0 && (beta - last).cwiseAbs().maxCoeff() <= settledAt * limit / huberWideLimit;
        const Eigen::VectorXd fitted = design * beta;
        for (std::size_t t = 0; t < table.takes.size(); ++t) {
            const auto& take = table.takes[t];
            double mean = 0.0;
            for (int i = 0; i < take.observationCount; ++i)
                mean += held[at(take.firstObservation + i)] / take.observationCount;
            const double level = mean - takeMeanRow(design, static_cast<int>(t)).dot(beta);
            for (int i = 0; i < take.observationCount; ++i) {
                const auto o = at(take.firstObservation + i);
                residuals[o] = y[o] - level - fitted[table.observations[o].kind];
            }
        }
        if (settled)
            break;
    }
    holdResiduals(y);
    finish();
}

double EffectFit::holdResiduals(const std::vector<double>& y) {
    const double limit = huberWideLimit * scaleOf(residuals);
    if (limit <= 0.0)
        return limit;
    double inside = 0.0;
    for (const double residual : residuals)
        inside += std::abs(residual) <= limit ? 1.0 : 0.0;
    const double stretch = static_cast<double>(residuals.size()) / std::max(1.0, inside);
    for (std::size_t i = 0; i < y.size(); ++i)
        held[i] = y[i] - residuals[i] + stretch * huberPsi(residuals[i], limit);
    return limit;
}

Eigen::VectorXd EffectFit::takeMeanRow(const Eigen::MatrixXd& rows, int take) const {
    const auto& range = table.takes[at(take)];
    Eigen::VectorXd mean = Eigen::VectorXd::Zero(rows.cols());
    for (int c = range.firstCell; c < range.firstCell + range.cellCount; ++c)
        mean += table.cells[at(c)].count * rows.row(table.cells[at(c)].kind).transpose();
    return mean / static_cast<double>(range.observationCount);
}

EffectFit::Moments EffectFit::momentsOf(const Eigen::MatrixXd& rows) const {
    const auto kinds = rows.rows();
    Eigen::VectorXd counts = Eigen::VectorXd::Zero(kinds), counts2 = counts, sums = counts;
    Moments moments;
    moments.gram = Eigen::MatrixXd::Zero(rows.cols(), rows.cols());
    moments.gramSquared = moments.gram;
    moments.products = Eigen::VectorXd::Zero(rows.cols());
    for (std::size_t t = 0; t < table.takes.size(); ++t) {
        const auto& take = table.takes[t];
        const double w = take.weight;
        const double n = take.observationCount;
        double sum = 0.0;
        for (int i = take.firstObservation; i < take.firstObservation + take.observationCount; ++i) {
            sums[table.observations[at(i)].kind] += w * held[at(i)];
            sum += held[at(i)];
            moments.squares += w * held[at(i)] * held[at(i)];
        }
        for (int c = take.firstCell; c < take.firstCell + take.cellCount; ++c) {
            counts[table.cells[at(c)].kind] += w * table.cells[at(c)].count;
            counts2[table.cells[at(c)].kind] += w * w * table.cells[at(c)].count;
        }
        const Eigen::VectorXd mean = takeMeanRow(rows, static_cast<int>(t));
        moments.gram.noalias() -= w * n * mean * mean.transpose();
        moments.gramSquared.noalias() -= w * w * n * mean * mean.transpose();
        moments.products -= w * sum * mean;
        moments.squares -= w * sum * sum / n;
        moments.weights += w * n;
        moments.count += n;
    }
    moments.gram += rows.transpose() * counts.asDiagonal() * rows;
    moments.gramSquared += rows.transpose() * counts2.asDiagonal() * rows;
    moments.products += rows.transpose() * sums;
    return moments;
}

Eigen::VectorXd EffectFit::solve(const Moments& moments) const {
    Eigen::MatrixXd shrunk = moments.gram;
    shrunk.diagonal().head(circumstances::count).array() += circumstances::ridge;
    return shrunk.completeOrthogonalDecomposition().solve(moments.products);
}

void EffectFit::finish() {
    const Moments moments = momentsOf(design);
    Eigen::MatrixXd shrunk = moments.gram;
    shrunk.diagonal().head(circumstances::count).array() += circumstances::ridge;
    inverse = shrunk.completeOrthogonalDecomposition().pseudoInverse();
    beta = inverse * moments.products;
    gramSquared = moments.gramSquared;
    // Residual sum of squares of the shrunk fit: y'y - 2 b'X'y + b'X'Xb.
    const double rest = moments.squares - 2.0 * beta.dot(moments.products) + beta.dot(moments.gram * beta);
    degrees = std::max(1.0, moments.count - static_cast<double>(table.takes.size()) - table.linesRemoved -
                                (inverse * moments.gram).trace());
    spread = std::sqrt(std::max(0.0, rest) / moments.weights * moments.count / degrees);
    const Eigen::VectorXd fitted = design * beta;
    for (std::size_t t = 0; t < table.takes.size(); ++t) {
        const auto& take = table.takes[t];
        double level = 0.0;
        for (int i = take.firstObservation; i < take.firstObservation + take.observationCount; ++i)
            level += (held[at(i)] - fitted[table.observations[at(i)].kind]) / take.observationCount;
        for (int i = take.firstObservation; i < take.firstObservation + take.observationCount; ++i)
            residuals[at(i)] = held[at(i)] - fitted[table.observations[at(i)].kind] - level;
    }
}

double EffectFit::standardError(int column) const {
    const Eigen::VectorXd g = inverse.row(circumstances::count + column);
    return spread * std::sqrt(std::max(0.0, g.dot(gramSquared * g)));
}

std::vector<double> EffectFit::leverages(int column) const {
    const Eigen::VectorXd g = inverse.row(circumstances::count + column);
    const Eigen::VectorXd byKind = design * g;
    std::vector<double> all(table.observations.size());
    for (std::size_t t = 0; t < table.takes.size(); ++t) {
        const auto& take = table.takes[t];
        const double mean = takeMeanRow(design, static_cast<int>(t)).dot(g);
        for (int i = take.firstObservation; i < take.firstObservation + take.observationCount; ++i)
            all[at(i)] = take.weight * (byKind[table.observations[at(i)].kind] - mean);
    }
    return all;
}

std::vector<double> EffectFit::influence(int column) const {
    std::vector<double> all = leverages(column);
    for (std::size_t i = 0; i < all.size(); ++i)
        all[i] *= residuals[i];
    return all;
}

std::vector<double> EffectFit::takeShares(int column) const {
    const auto all = leverages(column);
    std::vector<double> shares(table.takes.size());
    for (std::size_t t = 0; t < table.takes.size(); ++t) {
        const auto& take = table.takes[t];
        for (int i = take.firstObservation; i < take.firstObservation + take.observationCount; ++i)
            shares[t] += all[at(i)] * design(table.observations[at(i)].kind, circumstances::count + column);
    }
    return shares;
}

std::vector<double> EffectFit::takeStandardErrors(int column) const {
    const auto all = leverages(column);
    const auto shares = takeShares(column);
    std::vector<double> errors(table.takes.size());
    for (std::size_t t = 0; t < table.takes.size(); ++t) {
        const auto& take = table.takes[t];
        double squares = 0.0;
        for (int i = take.firstObservation; i < take.firstObservation + take.observationCount; ++i)
            squares += all[at(i)] * all[at(i)];
        errors[t] = shares[t] > 0.0 ? spread * std::sqrt(squares) / shares[t] : 0.0;
    }
    return errors;
}

EffectFit::Scan EffectFit::scan(const Eigen::MatrixXd& further) const {
    Eigen::MatrixXd wide(design.rows(), design.cols() + further.cols());
    wide << design, further;
    const Moments moments = momentsOf(wide);
    const auto p = design.cols();
    const auto k = further.cols();
    const Eigen::MatrixXd explained = inverse * moments.gram.topRightCorner(p, k);
    // Column j's contrast: itself less what the model explains of it.
    Eigen::MatrixXd contrasts(p + k, k);
    contrasts << -explained, Eigen::MatrixXd::Identity(k, k);
    const Eigen::MatrixXd covariance = contrasts.transpose() * moments.gramSquared * contrasts;
    const Eigen::VectorXd products = contrasts.transpose() * moments.products;
    Scan found{Eigen::VectorXd::Zero(k), Eigen::VectorXd::Zero(k), Eigen::VectorXd::Zero(k),
               Eigen::MatrixXd::Identity(k, k)};
    const double rest = spread * spread * degrees * moments.weights / moments.count;
    for (Eigen::Index j = 0; j < k; ++j) {
        const double whole = moments.gram(p + j, p + j);
        const double left = whole - moments.gram.col(p + j).head(p).dot(explained.col(j));
        found.tolerance[j] = whole > 0.0 ? left / whole : 0.0;
        if (found.tolerance[j] < leastTolerance)
            continue;
        found.effect[j] = products[j] / left;
        const double restWith = std::max(1e-12, rest - products[j] * products[j] / left);
        const double sigmaWith =
            std::sqrt(restWith / moments.weights * moments.count / std::max(1.0, degrees - 1.0));
        found.t[j] = products[j] / (sigmaWith * std::sqrt(covariance(j, j)));
        for (Eigen::Index i = 0; i < j; ++i)
            if (found.tolerance[i] >= leastTolerance)
                found.correlation(i, j) = found.correlation(j, i) =
                    covariance(i, j) / std::sqrt(covariance(i, i) * covariance(j, j));
    }
    return found;
}

Eigen::MatrixXd columnsOf(const std::vector<ChangeEvidence>& kinds, const std::vector<Suspect>& suspects) {
    Eigen::MatrixXd columns = Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(kinds.size()),
                                                    static_cast<Eigen::Index>(suspects.size()));
    for (std::size_t k = 0; k < kinds.size(); ++k)
        for (std::size_t s = 0; s < suspects.size(); ++s)
            if (suspects[s].involves(kinds[k]))
                columns(static_cast<Eigen::Index>(k), static_cast<Eigen::Index>(s)) = 1.0;
    return columns;
}

} // namespace valveladder
