#include "Findings/BlockMetric.h"

namespace valveladder {

using Eigen::Index;

BlockMetrics::BlockMetrics(const ObservationTable& observations, const NoiseShape& noise)
    : table(observations) {
    metrics.reserve(table.layouts.size());
    for (const auto& layout : table.layouts)
        metrics.push_back(metricOf(layout, noise, table.baseline));
}

BlockMetrics::Metric BlockMetrics::metricOf(const Layout& layout, const NoiseShape& noise,
                                            Baseline baseline) {
    const Index size = layout.size();
    Metric metric;
    const Eigen::LLT<Eigen::MatrixXd> root(noise.correlations(layout));
    metric.weights = root.solve(Eigen::MatrixXd::Identity(size, size));
    if (baseline == Baseline::segmentLine && size >= leastForLine) {
        metric.basis = lineBasis(layout);
        const Eigen::MatrixXd weighted = metric.weights * metric.basis;
        metric.toLine = (metric.basis.transpose() * weighted).llt().solve(weighted.transpose());
        metric.weights -= weighted * metric.toLine;
        metric.sums = Eigen::VectorXd::Zero(size);
    } else {
        metric.sums = metric.weights.rowwise().sum();
    }
    return metric;
}

std::vector<int> BlockMetrics::missing(const Block& block) const {
    const int size = table.layouts[index(block.layout)].size();
    std::vector<int> places;
    if (block.observationCount == size)
        return places;
    int observation = block.firstObservation;
    const int end = observation + block.observationCount;
    for (int place = 0; place < size; ++place)
        if (observation < end && table.observations[index(observation)].place == place)
            ++observation;
        else
            places.push_back(place);
    return places;
}

void BlockMetrics::complete(const Block& block, Eigen::Ref<Eigen::VectorXd> values) const {
    const auto places = missing(block);
    if (places.empty())
        return;
    const auto& all = weights(block.layout);
    for (const int place : places)
        values[place] = 0.0;
    const Eigen::VectorXd pull = (all * values)(places);
    values(places) = -Eigen::MatrixXd(all(places, places)).ldlt().solve(pull);
}

Eigen::VectorXd BlockMetrics::line(const Block& block, const Eigen::VectorXd& completed) const {
    const auto& metric = metrics[index(block.layout)];
    if (metric.toLine.size() == 0)
        return Eigen::VectorXd::Zero(completed.size());
    return metric.basis * (metric.toLine * completed);
}

Eigen::MatrixXd BlockMetrics::weightsOf(const Block& block) const {
    const auto places = missing(block);
    Eigen::MatrixXd all = weights(block.layout);
    if (places.empty())
        return all;
    const Eigen::MatrixXd across = all(Eigen::all, places);
    all.noalias() -= across * Eigen::MatrixXd(across(places, Eigen::all)).ldlt().solve(across.transpose());
    return all;
}

} // namespace valveladder
