#include "Findings/Bootstrap.h"

#include "Base/RobustStatistics.h"
#include "Findings/Distributions.h"

#include <algorithm>
#include <cmath>
#include <random>

namespace valveladder {

namespace {

double jackknifeAcceleration(const std::vector<double>& values, const Statistic& statistic) {
    std::vector<double> left(values.begin() + 1, values.end());
    std::vector<double> without(values.size());
    double mean = 0.0;
    for (std::size_t i = 0; i < values.size(); ++i) {
        without[i] = statistic(left);
        mean += without[i] / static_cast<double>(values.size());
        if (i < left.size())
            left[i] = values[i];
    }
    double squares = 0.0;
    double cubes = 0.0;
    for (const double value : without) {
        squares += (mean - value) * (mean - value);
        cubes += (mean - value) * (mean - value) * (mean - value);
    }
    return squares > 0.0 ? cubes / (6.0 * std::pow(squares, 1.5)) : 0.0;
}

} // namespace

double bcaEnd(const std::vector<double>& replicates, double estimate, double acceleration, double share) {
    double below = 0.0;
    for (const double value : replicates)
        below += value < estimate ? 1.0 : value == estimate ? 0.5 : 0.0;
    const auto count = static_cast<double>(replicates.size());
    const double bias = normalQuantile(std::clamp(below / count, 0.5 / count, 1.0 - 0.5 / count));
    const double shifted = bias + normalQuantile(share);
    return quantile(replicates, normalCdf(bias + shifted / (1.0 - acceleration * shifted)));
}

Estimate bcaInterval(const std::vector<double>& values, const Statistic& statistic, std::uint64_t seed,
                     int resamples, double share) {
    Estimate estimate;
    estimate.n = static_cast<int>(values.size());
    estimate.value = values.empty() ? 0.0 : statistic(values);
    estimate.low = estimate.high = estimate.value;
    if (values.size() < 2)
        return estimate;
    std::mt19937_64 random(seed);
    std::uniform_int_distribution<std::size_t> pick(0, values.size() - 1);
    std::vector<double> replicates(static_cast<std::size_t>(resamples));
    std::vector<double> sample(values.size());
    for (auto& replicate : replicates) {
        for (auto& value : sample)
            value = values[pick(random)];
        replicate = statistic(sample);
    }
    const double acceleration = jackknifeAcceleration(values, statistic);
    estimate.low = bcaEnd(replicates, estimate.value, acceleration, (1.0 - share) / 2.0);
    estimate.high = bcaEnd(replicates, estimate.value, acceleration, (1.0 + share) / 2.0);
    return estimate;
}

} // namespace valveladder
