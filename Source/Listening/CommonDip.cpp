#include "Listening/CommonDip.h"

#include "Base/Units.h"
#include "Listening/CommonDipConstants.h"
#include "Listening/PhraseConstants.h"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>
#include <span>

namespace valveladder {

namespace {

using namespace commondip;

constexpr double fullTurn = 2.0 * std::numbers::pi;

/// Root mean square amplitudes of the lowest partials about `place`, by a Hann window.
Eigen::ArrayXd partialsAt(const PhraseSound& sound, double place, double period, Eigen::Index count) {
    const double window = std::max(windowPeriods * period, sound.lengthOf(leastWindowSeconds));
    const std::span<const float> piece = sound.part(place - 0.5 * window, place + 0.5 * window);
    Eigen::ArrayXd levels(count);
    for (Eigen::Index k = 0; k < count; ++k) {
        const std::complex<double> turn = std::polar(1.0, -fullTurn * static_cast<double>(k + 1) / period);
        std::complex<double> phasor = 1.0;
        std::complex<double> sum = 0.0;
        for (std::size_t n = 0; n < piece.size(); ++n) {
            const double hann = 1.0 - std::cos(fullTurn * (static_cast<double>(n) + 0.5) / window);
            sum += hann * static_cast<double>(piece[n]) * phasor;
            phasor *= turn;
        }
        levels[k] = std::max(phrase::silence, std::numbers::sqrt2 * std::abs(sum) / window);
    }
    return levels;
}

} // namespace

double commonDipDb(const PhraseSound& sound, double place, double period) {
    const double hz = sound.rate / period;
    const Eigen::Index count = std::clamp(static_cast<int>(highestHz / hz), leastPartials, mostPartials);
    const int steps = static_cast<int>(std::lround(reachSeconds / stepSeconds));
    Eigen::ArrayXd before = Eigen::ArrayXd::Constant(count, phrase::silence);
    Eigen::ArrayXd after = before;
    Eigen::ArrayXd dip = partialsAt(sound, place, period, count);
    for (int i = 1; i <= steps; ++i) {
        const double away = sound.lengthOf(i * stepSeconds);
        const Eigen::ArrayXd earlier = partialsAt(sound, place - away, period, count);
        const Eigen::ArrayXd later = partialsAt(sound, place + away, period, count);
        if (i == 1)
            dip = dip.max(earlier).max(later);
        before = before.max(earlier);
        after = after.max(later);
    }
    const Eigen::ArrayXd weights = before.max(after).sqrt();
    const Eigen::ArrayXd down = (before.min(after) / dip).max(1.0).log10();
    return dbPerDecade * (weights * down).sum() / weights.sum();
}

} // namespace valveladder
