#include "Support/SoundTake.h"

#include <algorithm>
#include <cmath>

namespace valveladder::testing {

namespace {

/// Root mean square over one period (at least 5 ms), centred, by prefix sums.
class Level {
public:
    Level(const std::vector<float>& sound, double rate, double hz)
        : sums(sound.size() + 1, 0.0), window(std::max(1.0 / hz, 0.005) * rate) {
        for (std::size_t i = 0; i < sound.size(); ++i)
            sums[i + 1] = sums[i] + static_cast<double>(sound[i]) * static_cast<double>(sound[i]);
    }
    [[nodiscard]] double samples() const { return window; }
    [[nodiscard]] double at(double centre) const {
        const double last = static_cast<double>(sums.size() - 1);
        const auto a = static_cast<std::size_t>(std::clamp(centre - window / 2, 0.0, last));
        const auto b = static_cast<std::size_t>(std::clamp(centre + window / 2, 0.0, last));
        return b > a ? std::sqrt((sums[b] - sums[a]) / static_cast<double>(b - a)) : 0.0;
    }

private:
    std::vector<double> sums;
    double window;
};

constexpr double longestAttack = 0.15; ///< seconds

} // namespace

double audibleOnset(const std::vector<float>& alone, double rate, double struck, double length, double hz) {
    const Level level(alone, rate, hz);
    const double from = struck * rate;
    const double to = from + std::min(length, longestAttack) * rate;
    double most = 0.0;
    for (double t = from; t < to; t += 8.0)
        most = std::max(most, level.at(t));
    for (double t = from - level.samples(); t < to; t += 1.0)
        if (level.at(t) >= 0.316 * most)
            return t / rate - struck;
    return 0.0;
}

double prevailingOnset(const std::vector<float>& own, const std::vector<float>& others, double rate,
                       double onset, double hz) {
    const Level mine(own, rate, hz);
    const Level rest(others, rate, hz);
    for (double t = onset * rate; t < (onset + longestAttack) * rate; t += 1.0)
        if (mine.at(t) >= rest.at(t))
            return t / rate;
    return onset + longestAttack;
}

} // namespace valveladder::testing
