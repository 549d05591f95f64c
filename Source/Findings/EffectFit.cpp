#include "Findings/EffectFit.h"

#include "Base/Index.h"
#include "Base/RobustStatistics.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

using Eigen::Index;

constexpr int mostHoldRounds = 12;
constexpr double settledAt = 0.01; // of the residuals' scale: no effect moves by more
constexpr int maxScaleSample = 100000;
/// Weighted squares, units of y: where a column explains all the rest, rounding may leave less than nothing.
constexpr double leastRest = 1e-12;

/// madToSigma * median |residual|, of at most maxScaleSample of them spread evenly.
double scaleOf(const std::vector<double>& residuals) {
    const std::size_t step = 1 + residuals.size() / maxScaleSample;
    std::vector<double> sizes;
    sizes.reserve(residuals.size() / step + 1);
    for (std::size_t i = 0; i < residuals.size(); i += step)
        sizes.push_back(std::abs(residuals[i]));
    return madToSigma * quantile(std::move(sizes), 0.5);
}

Eigen::MatrixXd shrunk(Eigen::MatrixXd gram, Index terms) {
    gram.diagonal().head(terms).array() += circumstances::ridge;
    return gram;
}

/// y less the median of its take.
std::vector<double> aboutTakeMedians(const ObservationTable& table, const std::vector<double>& y) {
    std::vector<double> left(y.size());
    for (const auto& take : table.takes) {
        const auto begin = y.begin() + take.firstObservation;
        const double middle = median({begin, begin + take.observationCount});
        for (int i = take.firstObservation; i < take.firstObservation + take.observationCount; ++i)
            left[at(i)] = y[at(i)] - middle;
    }
    return left;
}

} // namespace

EffectFit::EffectFit(const EffectModel& effectModel, const Eigen::MatrixXd& columns,
                     const std::vector<double>& y)
    : model(effectModel), held(y), residuals(aboutTakeMedians(effectModel.table(), y)) {
    design.resize(static_cast<Index>(model.table().kinds.size()), termCount() + columns.cols());
    design << model.terms(), columns;
    beta = Eigen::VectorXd::Zero(design.cols());
    gram = model.gram(design);
    inverse = shrunk(gram, termCount()).completeOrthogonalDecomposition().pseudoInverse();
    for (int round = 0; round < mostHoldRounds; ++round) {
        const double limit = holdResiduals(y);
        const Eigen::VectorXd last = beta;
        beta = inverse * (design.transpose() * model.gather(held).byKind);
        residuals = model.residuals(y, held, design * beta);
        if (round > 0 && (beta - last).cwiseAbs().maxCoeff() <= settledAt * limit / holdLimit)
            break;
    }
    holdResiduals(y);
    finish();
}

double EffectFit::holdResiduals(const std::vector<double>& y) {
    const double limit = holdLimit * scaleOf(residuals);
    heldWithin = limit;
    if (limit <= 0.0)
        return limit;
    double inside = 0.0;
    for (const double residual : residuals)
        inside += std::abs(residual) <= limit ? 1.0 : 0.0;
    insideShare = std::max(1.0, inside) / static_cast<double>(residuals.size());
    for (std::size_t i = 0; i < y.size(); ++i)
        held[i] = y[i] - residuals[i] + huberPsi(residuals[i], limit) / insideShare;
    return limit;
}

void EffectFit::finish() {
    beta = inverse * (design.transpose() * model.gather(held).byKind);
    residuals = model.residuals(held, design * beta);
    const auto count = static_cast<double>(held.size());
    const double terms = model.baselineFreedom() + (inverse * gram).trace();
    degrees = std::max(1.0, count - terms);
    // Huber's correction for the share of residuals held back (1981, equation 7.6.6).
    const double correction = 1.0 + terms / count * (1.0 - insideShare) / insideShare;
    spread = correction * std::sqrt(model.weightedSquares(residuals) / model.totalWeight() * count / degrees);
}

std::vector<double> EffectFit::left(const std::vector<double>& y) const {
    return model.residuals(y, held, design * beta);
}

double EffectFit::standardError(int column) const {
    Eigen::VectorXd factors = Eigen::VectorXd::Zero(design.cols() - termCount());
    factors[column] = 1.0;
    return standardError(factors);
}

double EffectFit::standardError(const Eigen::VectorXd& factors) const {
    const Eigen::VectorXd g = inverse.rightCols(factors.size()) * factors;
    const Eigen::VectorXd byKind = design * g;
    return spread * std::sqrt(std::max(0.0, model.gramSquared(byKind)(0, 0)));
}

Eigen::VectorXd EffectFit::leverageOf(int column) const {
    return design * inverse.col(termCount() + column);
}

std::vector<double> EffectFit::leverages(int column) const {
    return model.leverages(leverageOf(column));
}

std::vector<double> EffectFit::influence(int column) const {
    std::vector<double> all = leverages(column);
    for (std::size_t i = 0; i < all.size(); ++i)
        all[i] *= residuals[i];
    return all;
}

std::vector<double> EffectFit::takeShares(int column) const {
    const auto all = leverages(column);
    std::vector<double> shares(model.table().takes.size());
    for (std::size_t i = 0; i < all.size(); ++i) {
        const auto& observation = model.table().observations[i];
        shares[at(observation.take)] += all[i] * design(observation.kind, termCount() + column);
    }
    return shares;
}

std::vector<double> EffectFit::takeStandardErrors(int column) const {
    const Eigen::VectorXd byKind = leverageOf(column);
    const auto all = model.leverages(byKind);
    const auto shares = takeShares(column);
    std::vector<double> errors(model.table().takes.size());
    // The variance of a take's part is its weight x (byKind' W byKind) within the take.
    for (std::size_t i = 0; i < all.size(); ++i) {
        const auto& observation = model.table().observations[i];
        const double weight = model.table().takes[at(observation.take)].weight;
        errors[at(observation.take)] += weight * all[i] * byKind[observation.kind];
    }
    for (std::size_t t = 0; t < errors.size(); ++t)
        errors[t] = shares[t] > 0.0 ? spread * std::sqrt(std::max(0.0, errors[t])) / shares[t] : 0.0;
    return errors;
}

EffectFit::Scan EffectFit::scan(const Eigen::MatrixXd& further) const {
    Eigen::MatrixXd wide(design.rows(), design.cols() + further.cols());
    wide << design, further;
    const Eigen::MatrixXd wideGram = model.gram(wide);
    const Eigen::VectorXd wideProducts = wide.transpose() * model.gather(held).byKind;
    const auto p = design.cols();
    const auto k = further.cols();
    const Eigen::MatrixXd explained = inverse * wideGram.topRightCorner(p, k);
    // Column j's contrast: itself less what the model explains of it.
    Eigen::MatrixXd contrasts(p + k, k);
    contrasts << -explained, Eigen::MatrixXd::Identity(k, k);
    const Eigen::MatrixXd covariance = model.gramSquared(wide * contrasts);
    const Eigen::VectorXd products = contrasts.transpose() * wideProducts;
    Scan found{Eigen::VectorXd::Zero(k), Eigen::VectorXd::Zero(k), Eigen::VectorXd::Zero(k),
               Eigen::MatrixXd::Identity(k, k)};
    const auto count = static_cast<double>(held.size());
    const double rest = spread * spread * degrees * model.totalWeight() / count;
    for (Index j = 0; j < k; ++j) {
        const double whole = wideGram(p + j, p + j);
        const double left = whole - wideGram.col(p + j).head(p).dot(explained.col(j));
        found.tolerance[j] = whole > 0.0 ? left / whole : 0.0;
        if (found.tolerance[j] < leastTolerance)
            continue;
        found.effect[j] = products[j] / left;
        const double restWith = std::max(leastRest, rest - products[j] * products[j] / left);
        const double sigmaWith =
            std::sqrt(restWith / model.totalWeight() * count / std::max(1.0, degrees - 1.0));
        found.t[j] = products[j] / (sigmaWith * std::sqrt(covariance(j, j)));
        for (Index i = 0; i < j; ++i)
            if (found.tolerance[i] >= leastTolerance)
                found.correlation(i, j) = found.correlation(j, i) =
                    covariance(i, j) / std::sqrt(covariance(i, i) * covariance(j, j));
    }
    return found;
}

} // namespace valveladder
