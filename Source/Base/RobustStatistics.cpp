#include "Base/RobustStatistics.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

double quantile(std::vector<double> values, double share) {
    if (values.empty())
        return 0.0;
    const double position = share * static_cast<double>(values.size() - 1);
    const auto below = static_cast<std::ptrdiff_t>(std::floor(position));
    std::nth_element(values.begin(), values.begin() + below, values.end());
    const double low = values[static_cast<std::size_t>(below)];
    const double part = position - static_cast<double>(below);
    if (part == 0.0)
        return low;
    const double high = *std::min_element(values.begin() + below + 1, values.end());
    return low + part * (high - low);
}

double median(std::vector<double> values) {
    return quantile(std::move(values), 0.5);
}

double scaledMad(std::vector<double> values) {
    const double centre = median(values);
    for (double& value : values)
        value = std::abs(value - centre);
    return madToSigma * median(std::move(values));
}

double huberPsi(double residual, double limit) {
    return std::clamp(residual, -limit, limit);
}

} // namespace valveladder
