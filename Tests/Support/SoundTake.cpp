#include "Support/SoundTake.h"

#include <algorithm>
#include <cmath>

namespace valveladder::testing {

double audibleOnset(const std::vector<float>& alone, double rate, double struck, double length, double hz) {
    std::vector<double> sums(alone.size() + 1, 0.0);
    for (std::size_t i = 0; i < alone.size(); ++i)
        sums[i + 1] = sums[i] + static_cast<double>(alone[i]) * static_cast<double>(alone[i]);
    const double window = std::max(1.0 / hz, 0.005) * rate;
    const auto rms = [&](double centre) {
        const double last = static_cast<double>(alone.size());
        const auto a = static_cast<std::size_t>(std::clamp(centre - window / 2, 0.0, last));
        const auto b = static_cast<std::size_t>(std::clamp(centre + window / 2, 0.0, last));
        return b > a ? std::sqrt((sums[b] - sums[a]) / static_cast<double>(b - a)) : 0.0;
    };
    const double from = struck * rate;
    const double to = from + std::min(length, 0.15) * rate;
    double most = 0.0;
    for (double t = from; t < to; t += 8.0)
        most = std::max(most, rms(t));
    for (double t = from - window; t < to; t += 1.0)
        if (rms(t) >= 0.316 * most)
            return t / rate - struck;
    return 0.0;
}

} // namespace valveladder::testing
