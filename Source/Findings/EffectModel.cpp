#include "Findings/EffectModel.h"

#include "Base/Index.h"
#include "Findings/Circumstances.h"

#include <utility>

namespace valveladder {

namespace {

using Eigen::Index;

/// Weights of all blocks of one layout, age weights and their squares.
struct LayoutSum {
    double weight = 0.0;
    double squared = 0.0;
    Eigen::MatrixXd lost; ///< what unmeasured places would have brought; empty while nothing is lost
    Eigen::MatrixXd lostSquared;
};

/// Adds weights by place of a layout to those by kind.
void addTo(Eigen::MatrixXd& byKinds, const Layout& layout, const Eigen::MatrixXd& weights) {
    for (Index j = 0; j < weights.cols(); ++j)
        for (Index i = 0; i < weights.rows(); ++i)
            byKinds(layout.kinds[static_cast<std::size_t>(i)], layout.kinds[static_cast<std::size_t>(j)]) +=
                weights(i, j);
}

} // namespace

EffectModel::EffectModel(const ObservationTable& table, const NoiseShape& noise)
    : EffectModel(table, noise, circumstancesOf(table.kinds)) {}

EffectModel::EffectModel(const ObservationTable& table, const NoiseShape& noise, Eigen::MatrixXd terms)
    : observations(table), shape(noise), heldTerms(std::move(terms)), blockMetrics(table, noise),
      byKinds(static_cast<Index>(table.kinds.size()), static_cast<Index>(table.kinds.size())),
      byKindsSquared(byKinds.rows(), byKinds.cols()),
      takeShares(byKinds.rows(), static_cast<Index>(table.takes.size())),
      takeSums(Eigen::VectorXd::Zero(takeShares.cols())), takeWeights(takeShares.cols()) {
    for (std::size_t t = 0; t < table.takes.size(); ++t) {
        takeWeights[static_cast<Index>(t)] = table.takes[t].weight;
        weightSum += table.takes[t].weight * table.takes[t].observationCount;
    }
    sumWeights();
    if (table.baseline == Baseline::segmentLine)
        return;
    std::vector<Eigen::Triplet<double>> shares;
    for (std::size_t t = 0; t < table.takes.size(); ++t)
        addTake(static_cast<int>(t), shares);
    takeShares.setFromTriplets(shares.begin(), shares.end());
}

void EffectModel::sumWeights() {
    std::vector<LayoutSum> sums(observations.layouts.size());
    for (const auto& block : observations.blocks) {
        const double w = observations.takes[at(block.take)].weight;
        auto& sum = sums[at(block.layout)];
        sum.weight += w;
        sum.squared += w * w;
        const auto& whole = blockMetrics.weights(block.layout);
        if (block.observationCount == static_cast<int>(whole.rows()))
            continue;
        if (sum.lost.size() == 0)
            sum.lost = sum.lostSquared = Eigen::MatrixXd::Zero(whole.rows(), whole.cols());
        const Eigen::MatrixXd lost = whole - blockMetrics.weightsOf(block);
        sum.lost += w * lost;
        sum.lostSquared += w * w * lost;
    }
    Eigen::MatrixXd summed = Eigen::MatrixXd::Zero(byKinds.rows(), byKinds.cols());
    Eigen::MatrixXd summedSquared = summed;
    for (std::size_t l = 0; l < sums.size(); ++l) {
        const auto& layout = observations.layouts[l];
        const auto& whole = blockMetrics.weights(static_cast<int>(l));
        const bool lost = sums[l].lost.size() > 0;
        addTo(summed, layout,
              lost ? Eigen::MatrixXd(sums[l].weight * whole - sums[l].lost)
                   : Eigen::MatrixXd(sums[l].weight * whole));
        addTo(summedSquared, layout,
              lost ? Eigen::MatrixXd(sums[l].squared * whole - sums[l].lostSquared)
                   : Eigen::MatrixXd(sums[l].squared * whole));
    }
    byKinds = summed.sparseView();
    byKindsSquared = summedSquared.sparseView();
}

void EffectModel::addTake(int take, std::vector<Eigen::Triplet<double>>& shares) {
    const auto& range = observations.takes[at(take)];
    for (int b = range.firstBlock; b < range.firstBlock + range.blockCount; ++b) {
        const auto& block = observations.blocks[at(b)];
        const auto& layout = observations.layouts[at(block.layout)];
        Eigen::VectorXd ones = Eigen::VectorXd::Ones(layout.size());
        blockMetrics.complete(block, ones);
        const bool whole = block.observationCount == layout.size();
        const Eigen::VectorXd sums = whole ? blockMetrics.sums(block.layout)
                                           : Eigen::VectorXd(blockMetrics.weights(block.layout) * ones);
        for (int i = 0; i < layout.size(); ++i)
            shares.emplace_back(layout.kinds[at(i)], take, sums[i]);
        takeSums[take] += sums.sum();
    }
}

Eigen::MatrixXd EffectModel::gram(const Eigen::MatrixXd& columns) const {
    Eigen::MatrixXd products = columns.transpose() * (byKinds * columns);
    if (observations.baseline == Baseline::takeLevel) {
        const Eigen::MatrixXd levels = (takeShares.transpose() * columns).transpose();
        products -= levels * takeWeights.cwiseQuotient(takeSums).asDiagonal() * levels.transpose();
    }
    return products;
}

Eigen::MatrixXd EffectModel::gramSquared(const Eigen::MatrixXd& columns) const {
    Eigen::MatrixXd products = columns.transpose() * (byKindsSquared * columns);
    if (observations.baseline == Baseline::takeLevel) {
        const Eigen::MatrixXd levels = (takeShares.transpose() * columns).transpose();
        products -=
            levels * takeWeights.cwiseAbs2().cwiseQuotient(takeSums).asDiagonal() * levels.transpose();
    }
    return products;
}

Eigen::VectorXd EffectModel::valuesIn(const Block& block, const std::vector<double>& values) const {
    const int size = observations.layouts[at(block.layout)].size();
    if (block.observationCount == size)
        return Eigen::Map<const Eigen::VectorXd>(values.data() + block.firstObservation, size);
    Eigen::VectorXd found = Eigen::VectorXd::Zero(size);
    for (int o = block.firstObservation; o < block.firstObservation + block.observationCount; ++o)
        found[observations.observations[at(o)].place] = values[at(o)];
    blockMetrics.complete(block, found);
    return found;
}

Eigen::VectorXd EffectModel::kindsIn(const Block& block, const Eigen::VectorXd& byKind) const {
    const auto& kinds = observations.layouts[at(block.layout)].kinds;
    Eigen::VectorXd found(static_cast<Index>(kinds.size()));
    for (std::size_t i = 0; i < kinds.size(); ++i)
        found[static_cast<Index>(i)] = byKind[kinds[i]];
    return found;
}

EffectModel::Gathered EffectModel::gather(const std::vector<double>& values) const {
    const bool levels = observations.baseline == Baseline::takeLevel;
    Gathered gathered{Eigen::VectorXd::Zero(byKinds.rows()), Eigen::VectorXd::Zero(takeShares.cols())};
    std::vector<Eigen::VectorXd> sums(observations.layouts.size());
    for (const auto& block : observations.blocks) {
        const Eigen::VectorXd inBlock = valuesIn(block, values);
        auto& sum = sums[at(block.layout)];
        if (sum.size() == 0)
            sum = Eigen::VectorXd::Zero(inBlock.size());
        sum += takeWeights[block.take] * inBlock;
        if (levels)
            gathered.takeLevels[block.take] += blockMetrics.sums(block.layout).dot(inBlock);
    }
    for (std::size_t l = 0; l < sums.size(); ++l) {
        if (sums[l].size() == 0)
            continue;
        const Eigen::VectorXd weighed = blockMetrics.weights(static_cast<int>(l)) * sums[l];
        const auto& kinds = observations.layouts[l].kinds;
        for (std::size_t i = 0; i < kinds.size(); ++i)
            gathered.byKind[kinds[i]] += weighed[static_cast<Index>(i)];
    }
    if (levels) {
        gathered.takeLevels = gathered.takeLevels.cwiseQuotient(takeSums).eval();
        gathered.byKind -= takeShares * takeWeights.cwiseProduct(gathered.takeLevels);
    }
    return gathered;
}

Eigen::VectorXd EffectModel::takeMeans(const Eigen::VectorXd& byKind) const {
    if (observations.baseline == Baseline::segmentLine)
        return Eigen::VectorXd::Zero(takeShares.cols());
    return (takeShares.transpose() * byKind).cwiseQuotient(takeSums);
}

std::vector<double> EffectModel::residuals(const std::vector<double>& values,
                                           const Eigen::VectorXd& byKind) const {
    return residuals(values, values, byKind);
}

std::vector<double> EffectModel::residuals(const std::vector<double>& values, const std::vector<double>& held,
                                           const Eigen::VectorXd& byKind) const {
    std::vector<double> left(values.size()), heldLeft(values.size());
    for (std::size_t i = 0; i < values.size(); ++i) {
        const double fitted = byKind[observations.observations[i].kind];
        left[i] = values[i] - fitted;
        heldLeft[i] = held[i] - fitted;
    }
    if (observations.baseline == Baseline::takeLevel) {
        Eigen::VectorXd levels = Eigen::VectorXd::Zero(takeSums.size());
        for (const auto& block : observations.blocks)
            levels[block.take] += blockMetrics.sums(block.layout).dot(valuesIn(block, heldLeft));
        levels = levels.cwiseQuotient(takeSums).eval();
        for (std::size_t i = 0; i < left.size(); ++i)
            left[i] -= levels[observations.observations[i].take];
        return left;
    }
    for (const auto& block : observations.blocks) {
        const Eigen::VectorXd line = blockMetrics.line(block, valuesIn(block, heldLeft));
        for (int o = block.firstObservation; o < block.firstObservation + block.observationCount; ++o)
            left[at(o)] -= line[observations.observations[at(o)].place];
    }
    return left;
}

double EffectModel::weightedSquares(const std::vector<double>& residuals) const {
    double squares = 0.0;
    for (const auto& block : observations.blocks) {
        const Eigen::VectorXd inBlock = valuesIn(block, residuals);
        squares += takeWeights[block.take] * inBlock.dot(blockMetrics.weights(block.layout) * inBlock);
    }
    return squares;
}

std::vector<double> EffectModel::leverages(const Eigen::VectorXd& byKind) const {
    const Eigen::VectorXd means = takeMeans(byKind);
    std::vector<double> all(observations.observations.size());
    for (const auto& block : observations.blocks) {
        Eigen::VectorXd inBlock = kindsIn(block, byKind).array() - means[block.take];
        blockMetrics.complete(block, inBlock);
        const Eigen::VectorXd weighed =
            takeWeights[block.take] * (blockMetrics.weights(block.layout) * inBlock);
        for (int o = block.firstObservation; o < block.firstObservation + block.observationCount; ++o)
            all[at(o)] = weighed[observations.observations[at(o)].place];
    }
    return all;
}

double EffectModel::baselineFreedom() const {
    return observations.baseline == Baseline::segmentLine
               ? 2.0 * static_cast<double>(observations.blocks.size())
               : static_cast<double>(observations.takes.size());
}

Eigen::MatrixXd columnsOf(const std::vector<ChangeEvidence>& kinds, const std::vector<Suspect>& suspects) {
    Eigen::MatrixXd columns =
        Eigen::MatrixXd::Zero(static_cast<Index>(kinds.size()), static_cast<Index>(suspects.size()));
    for (std::size_t k = 0; k < kinds.size(); ++k)
        for (std::size_t s = 0; s < suspects.size(); ++s)
            if (suspects[s].involves(kinds[k]))
                columns(static_cast<Index>(k), static_cast<Index>(s)) = 1.0;
    return columns;
}

Eigen::MatrixXd circumstancesOf(const std::vector<ChangeEvidence>& kinds) {
    Eigen::MatrixXd rows(static_cast<Index>(kinds.size()), static_cast<Index>(circumstances::count));
    for (std::size_t k = 0; k < kinds.size(); ++k)
        rows.row(static_cast<Index>(k)) = circumstances::row(kinds[k]);
    return rows;
}

} // namespace valveladder
