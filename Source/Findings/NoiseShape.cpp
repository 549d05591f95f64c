#include "Findings/NoiseShape.h"

#include "Base/Index.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <numeric>

namespace valveladder {

namespace {

using Eigen::Index;

constexpr double driftGrid[] = {0.1, 0.2, 0.3, 0.4, 0.5, 0.65, 0.8};
constexpr double memoryGrid[] = {0.4, 0.7, 0.85, 0.95};
/// Sum of cubed block sizes that a likelihood may cost; more layouts tell little more.
constexpr double mostCubes = 2e6;

/// Sum of r r' over the blocks of one layout that were measured whole.
struct Scatter {
    int layout = 0;
    double blocks = 0.0;
    Eigen::MatrixXd products;
};

std::vector<Scatter> scattersOf(const ObservationTable& table, const std::vector<double>& residuals) {
    std::vector<int> number(table.layouts.size(), -1);
    std::vector<Scatter> scatters;
    double cubes = 0.0;
    for (const auto& block : table.blocks) {
        const int size = table.layouts[at(block.layout)].size();
        if (block.observationCount < size)
            continue;
        int& known = number[at(block.layout)];
        if (known < 0) {
            const double cube = static_cast<double>(size) * size * size;
            if (cubes > 0.0 && cubes + cube > mostCubes)
                continue;
            cubes += cube;
            known = static_cast<int>(scatters.size());
            scatters.push_back({block.layout, 0.0, Eigen::MatrixXd::Zero(size, size)});
        }
        auto& scatter = scatters[at(known)];
        const Eigen::Map<const Eigen::VectorXd> r(residuals.data() + block.firstObservation, size);
        scatter.products.noalias() += r * r.transpose();
        scatter.blocks += 1.0;
    }
    return scatters;
}

/// Twice the negative log-likelihood, constants left out.
double unlikelihood(const ObservationTable& table, const std::vector<Scatter>& scatters,
                    const NoiseShape& shape) {
    const bool lines = table.baseline == Baseline::segmentLine;
    double logs = 0.0, squares = 0.0, freedom = 0.0;
    for (const auto& scatter : scatters) {
        const Layout& layout = table.layouts[at(scatter.layout)];
        const Eigen::LLT<Eigen::MatrixXd> root(shape.correlations(layout));
        const auto logOfDeterminant = [](const Eigen::MatrixXd& lower) {
            return 2.0 * lower.diagonal().array().log().sum();
        };
        Eigen::MatrixXd weights = root.solve(Eigen::MatrixXd::Identity(layout.size(), layout.size()));
        double logDeterminant = logOfDeterminant(root.matrixLLT());
        freedom += scatter.blocks * layout.size();
        if (lines) {
            const Eigen::MatrixXd basis = lineBasis(layout);
            const Eigen::MatrixXd weighted = weights * basis;
            const Eigen::LLT<Eigen::MatrixXd> inner(basis.transpose() * weighted);
            logDeterminant += logOfDeterminant(inner.matrixLLT());
            weights -= weighted * inner.solve(weighted.transpose());
            freedom -= 2.0 * scatter.blocks;
        }
        logs += scatter.blocks * logDeterminant;
        squares += weights.cwiseProduct(scatter.products).sum();
    }
    return logs + freedom * std::log(std::max(squares / freedom, std::numeric_limits<double>::min()));
}

} // namespace

double NoiseShape::correlation(int notes) const {
    return notes == 0 ? 1.0 : drift * std::pow(memory, std::abs(notes));
}

Eigen::MatrixXd NoiseShape::correlations(const Layout& layout) const {
    const Index size = layout.size();
    const auto [first, last] = std::ranges::minmax(layout.notes);
    std::vector<double> apart; // by notes apart: fewer powers than pairs
    for (int notes = 0; notes <= last - first; ++notes)
        apart.push_back(correlation(notes));
    Eigen::MatrixXd all(size, size);
    for (Index i = 0; i < size; ++i)
        for (Index j = 0; j < size; ++j)
            all(i, j) = apart[at(std::abs(layout.notes[static_cast<std::size_t>(i)] -
                                          layout.notes[static_cast<std::size_t>(j)]))];
    return all;
}

NoiseShape likeliestNoise(const ObservationTable& table, const std::vector<double>& residuals) {
    const auto scatters = scattersOf(table, residuals);
    const double blocks = std::accumulate(scatters.begin(), scatters.end(), 0.0,
                                          [](double sum, const Scatter& s) { return sum + s.blocks; });
    if (blocks < leastBlocksForNoise)
        return usualNoise;
    NoiseShape best;
    double least = unlikelihood(table, scatters, best);
    for (const double drift : driftGrid)
        for (const double memory : memoryGrid) {
            const NoiseShape shape{drift, memory};
            const double value = unlikelihood(table, scatters, shape);
            if (value < least) {
                least = value;
                best = shape;
            }
        }
    return best;
}

Eigen::MatrixXd lineBasis(const Layout& layout) {
    Eigen::MatrixXd basis(layout.size(), 2);
    const double first = layout.ticks.front();
    const double half = std::max(1.0, (layout.ticks.back() - first) / 2.0);
    for (int i = 0; i < layout.size(); ++i)
        basis.row(i) << 1.0, (layout.ticks[at(i)] - first) / half - 1.0;
    return basis;
}

} // namespace valveladder
