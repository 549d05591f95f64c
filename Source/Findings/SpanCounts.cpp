#include "Findings/SpanCounts.h"

#include "Findings/Resampling.h"

#include <random>

namespace valveladder {

Contrast& Contrast::operator+=(const Contrast& other) {
    with += other.with;
    without += other.without;
    countWith += other.countWith;
    countWithout += other.countWithout;
    return *this;
}

std::vector<Contrast> contrasts(const ObservationTable& table, const std::vector<double>& values,
                                const std::vector<bool>& kindInvolved) {
    const bool wholeTakes = static_cast<int>(table.takes.size()) >= resampling::wholeTakesFrom;
    std::vector<Contrast> clusters;
    int last = -1;
    for (std::size_t i = 0; i < table.observations.size(); ++i) {
        const auto& observation = table.observations[i];
        const int cluster = wholeTakes ? observation.take : observation.span;
        if (cluster != last)
            clusters.emplace_back();
        last = cluster;
        const double weight = table.takes[static_cast<std::size_t>(observation.take)].weight;
        const bool involved = kindInvolved[static_cast<std::size_t>(observation.kind)];
        Contrast& sums = clusters.back();
        (involved ? sums.with : sums.without) += weight * values[i];
        (involved ? sums.countWith : sums.countWithout) += weight;
    }
    return clusters;
}

Estimate contrastInterval(const std::vector<Contrast>& clusters, const ContrastStatistic& statistic,
                          std::uint64_t seed) {
    Contrast all;
    for (const auto& cluster : clusters)
        all += cluster;
    Estimate estimate;
    estimate.value = estimate.low = estimate.high = statistic(all);
    if (clusters.size() < 2)
        return estimate;
    std::mt19937_64 random(seed);
    std::uniform_int_distribution<std::size_t> pick(0, clusters.size() - 1);
    std::vector<double> draws(resampling::draws);
    for (auto& draw : draws) {
        Contrast sample;
        for (std::size_t i = 0; i < clusters.size(); ++i)
            sample += clusters[pick(random)];
        draw = statistic(sample);
    }
    const EffectInterval middle = middleOf(draws);
    estimate.low = middle.low;
    estimate.high = middle.high;
    return estimate;
}

} // namespace valveladder
