#include "Findings/Spreads.h"

#include "Base/RobustStatistics.h"
#include "Findings/EffectFit.h"

#include <cmath>
#include <map>

namespace valveladder {

std::vector<double> sizesAboutOwnMedian(const ObservationTable& table) {
    const auto changeOf = [&](const Observation& observation) {
        return table.kinds[static_cast<std::size_t>(observation.kind)].change;
    };
    const std::vector<double> y = measuresOf(table);
    const EffectModel model(table, usualNoise);
    const Eigen::MatrixXd nothing(static_cast<Eigen::Index>(table.kinds.size()), 0);
    const auto left = EffectFit(model, nothing, y).left(y);
    std::map<Change, std::vector<double>> byChange;
    for (std::size_t i = 0; i < left.size(); ++i)
        byChange[changeOf(table.observations[i])].push_back(left[i]);
    std::map<Change, double> middles;
    for (auto& [change, values] : byChange)
        middles[change] = median(std::move(values));
    std::vector<double> sizes;
    sizes.reserve(table.observations.size());
    for (std::size_t i = 0; i < left.size(); ++i)
        sizes.push_back(std::abs(left[i] - middles[changeOf(table.observations[i])]));
    return sizes;
}

} // namespace valveladder
