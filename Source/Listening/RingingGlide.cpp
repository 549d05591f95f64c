#include "Listening/RingingGlide.h"

#include "Listening/DotProduct.h"
#include "Listening/PitchPath.h"
#include "Listening/RingingConstants.h"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstddef>
#include <iterator>
#include <numbers>
#include <vector>

namespace valveladder {

namespace {

using namespace ringing;

constexpr double fullTurn = 2.0 * std::numbers::pi;

/// Windowed sinc of unit sum; `cut` in cycles a sample.
std::vector<float> lowPass(double cut) {
    const int half = static_cast<int>(filterLobes / (2.0 * cut));
    std::vector<float> kernel;
    for (int i = -half; i <= half; ++i) {
        const double at = fullTurn * i * cut;
        const double hann = 0.5 + 0.5 * std::cos(std::numbers::pi * i / (half + 1));
        kernel.push_back(static_cast<float>((i == 0 ? 1.0 : std::sin(at) / at) * 2.0 * cut * hann));
    }
    return kernel;
}

/// Every `factor`-th sample of the sound through a low pass.
Eigen::VectorXf thinned(std::span<const float> sound, int factor, double cut) {
    const std::vector<float> kernel = lowPass(cut);
    const auto half = static_cast<std::ptrdiff_t>(kernel.size() / 2);
    const auto size = static_cast<std::ptrdiff_t>(sound.size());
    Eigen::VectorXf out(size / factor);
    for (Eigen::Index n = 0; n < out.size(); ++n) {
        const std::ptrdiff_t middle = n * factor;
        const std::ptrdiff_t first = std::max<std::ptrdiff_t>(0, middle - half);
        const std::ptrdiff_t last = std::min(size, middle + half + 1);
        out[n] = static_cast<float>(dotProduct(kernel.data() + (first - middle + half), sound.data() + first,
                                               static_cast<std::size_t>(last - first)));
    }
    return out;
}

/// One turn a cycle of a path, from `before` samples before the first one on.
Eigen::VectorXcf turnsOf(const PitchPath& path, Eigen::Index before, Eigen::Index size) {
    Eigen::VectorXcf turns(before + size);
    for (Eigen::Index n = 0; n < turns.size(); ++n) {
        const double cycles = path.phase(static_cast<double>(n - before));
        const double angle = fullTurn * (cycles - std::floor(cycles));
        turns[n] = {static_cast<float>(std::cos(angle)), static_cast<float>(std::sin(angle))};
    }
    return turns;
}

/// Share of the way that a glide has gone, for each sample.
Eigen::VectorXf goneOver(const Glide& glide, Eigen::Index size) {
    const double left = glide.centre - 0.5 * glide.length;
    const double length = std::max(1.0, glide.length);
    const auto places = Eigen::ArrayXf::LinSpaced(size, 0.0F, static_cast<float>(size - 1));
    return ((places - static_cast<float>(left)) / static_cast<float>(length)).max(0.0F).min(1.0F);
}

/// Rises and falls at either end.
Eigen::VectorXf tapered(Eigen::Index size) {
    Eigen::VectorXf window = Eigen::VectorXf::Ones(size);
    const auto edge = static_cast<Eigen::Index>(taperShare * static_cast<double>(size));
    for (Eigen::Index n = 0; n < edge; ++n) {
        const double share = (static_cast<double>(n) + 0.5) / static_cast<double>(edge);
        window[n] = window[size - 1 - n] = static_cast<float>(0.5 - 0.5 * std::cos(std::numbers::pi * share));
    }
    return window;
}

/// The tone, and the same growing louder; its echoes follow.
constexpr int toneColumns = 2;

/// Power that the solution of normal equations explains.
float explained(const Eigen::Ref<const Eigen::MatrixXcf>& normal,
                const Eigen::Ref<const Eigen::VectorXcf>& right) {
    return right.dot(normal.llt().solve(right)).real();
}

} // namespace

RingingGlideFitter::RingingGlideFitter(std::span<const float> sound, double fromFrequency, double toFrequency,
                                       double sampleRate)
    : f1(fromFrequency), f2(toFrequency), rate(sampleRate), harmonics(leastHarmonics) {
    const double highest = std::max(f1, f2);
    harmonics = std::clamp(static_cast<int>(highestHz / (highest * rate)), leastHarmonics, mostHarmonics);
    const double cut = highest * (harmonics + 0.5);
    thinning = std::max(1, static_cast<int>(1.0 / (cut * samplesPerCycle)));
    Eigen::VectorXf kept = thinned(sound, thinning, std::min(0.5, cut));
    window = tapered(kept.size());
    kept.array() *= window.array();
    power = std::max(1e-12F, kept.squaredNorm());
    thin = kept.cast<std::complex<float>>();
    f1 *= thinning;
    f2 *= thinning;
    rate /= thinning;
    const double lower = lowHz / (std::min(f1, f2) * rate);
    dearerEchoes = static_cast<float>(std::max(1.0, lower * lower));
    for (const double seconds : echoSeconds)
        delays.push_back(std::max<Eigen::Index>(1, std::lround(seconds * rate)));
}

RingingGlideFitter::Unexplained RingingGlideFitter::unexplained(const Trial& trial, int count) const {
    const PitchPath path = glidePath(trial.glide, f1 * (1.0 + trial.firstOff), f2 * (1.0 + trial.secondOff));
    const Eigen::Index size = thin.size();
    const Eigen::Index before = delays.back();
    const auto echoes = static_cast<Eigen::Index>(delays.size());
    const Eigen::VectorXcf turns = turnsOf(path, before, size);
    const Eigen::VectorXf gone = goneOver(trial.glide, size);
    Eigen::VectorXf cost = Eigen::VectorXf::Constant(toneColumns + echoes, dearerEchoes * echoCost);
    cost[0] = toneCost;
    cost[1] = loudnessCost;
    const float weight = window.squaredNorm();
    Eigen::MatrixXcf columns(size, toneColumns + echoes);
    Eigen::VectorXcf harmonic = Eigen::VectorXcf::Ones(turns.size());
    float byTone = 0.0F;
    float withEchoes = 0.0F;
    for (int k = 0; k < count; ++k) {
        harmonic.array() *= turns.array();
        columns.col(0) = harmonic.segment(before, size).cwiseProduct(window);
        columns.col(1) = columns.col(0).cwiseProduct(gone);
        for (Eigen::Index j = 0; j < echoes; ++j)
            columns.col(toneColumns + j) =
                harmonic.segment(before - delays[static_cast<std::size_t>(j)], size).cwiseProduct(window);
        Eigen::MatrixXcf normal = columns.adjoint() * columns;
        normal.diagonal() += (weight * cost).cast<std::complex<float>>();
        const Eigen::VectorXcf right = columns.adjoint() * thin;
        byTone += explained(normal.topLeftCorner<toneColumns, toneColumns>(), right.head<toneColumns>());
        withEchoes += explained(normal, right);
    }
    // Of the regularised solution, what it costs included. Half of a harmonic turns forwards and half back;
    // the first alone is fitted.
    const auto left = [this](float found) { return static_cast<double>((power - 2.0F * found) / power); };
    return {left(byTone), left(withEchoes)};
}

double RingingGlideFitter::echoShare(Glide glide) const {
    glide.centre /= thinning;
    glide.length /= thinning;
    const Unexplained left = unexplained({glide, 0.0, 0.0}, harmonics);
    return left.byTone - left.withEchoes;
}

Glide RingingGlideFitter::fit(Glide start, double maxLength) const {
    maxLength /= thinning;
    Trial best{start, 0.0, 0.0};
    best.glide.centre /= thinning;
    best.glide.length = std::min(maxLength, best.glide.length / thinning);
    best.glide.shape = BendShape::straight;
    best = search(best, maxLength, 1.0, roughStep, std::min(roughHarmonics, harmonics));
    best = search(best, maxLength, 2.0 * roughStep, finestSeconds / lengthStep, harmonics);
    best.glide.centre *= thinning;
    best.glide.length = std::max(0.0, best.glide.length - longSeconds * rate) * thinning;
    return best.glide;
}

/// A trial with one of its four numbers moved.
RingingGlideFitter::Trial RingingGlideFitter::moved(Trial trial, int which, double way,
                                                    double maxLength) const {
    switch (which) {
    case 0:
        trial.glide.centre += way * centreStep * rate;
        break;
    case 1:
        trial.glide.length = std::clamp(trial.glide.length + way * lengthStep * rate, 0.0, maxLength);
        break;
    case 2:
        trial.firstOff += way * pitchStep;
        break;
    default:
        trial.secondOff += way * pitchStep;
    }
    return trial;
}

RingingGlideFitter::Trial RingingGlideFitter::search(Trial best, double maxLength, double step, double finest,
                                                     int count) const {
    best.glide.residual = unexplained(best, count).withEchoes;
    for (int round = 0; round < rounds && step > finest; ++round) {
        bool better = false;
        for (int which = 0; which < 4; ++which)
            for (const double way : {step, -step}) {
                Trial trial = moved(best, which, way, maxLength);
                trial.glide.residual = unexplained(trial, count).withEchoes;
                if (trial.glide.residual >= best.glide.residual)
                    continue;
                best = trial;
                better = true;
                break;
            }
        if (!better)
            step *= 0.5;
    }
    return best;
}

} // namespace valveladder
