#include "Listening/RingingGlide.h"

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
        float value = 0.0F;
        for (std::ptrdiff_t i = first; i < last; ++i)
            value += kernel[static_cast<std::size_t>(i - middle + half)] * sound[static_cast<std::size_t>(i)];
        out[n] = value;
    }
    return out;
}

/// Harmonics of a path `delay` samples later, a cosine and a sine each, into columns from `column` on.
void setHarmonics(Eigen::MatrixXf& columns, Eigen::Index column, int harmonics, const PitchPath& path,
                  double delay) {
    for (Eigen::Index n = 0; n < columns.rows(); ++n) {
        const double turns = path.phase(static_cast<double>(n) - delay);
        const double angle = fullTurn * (turns - std::floor(turns));
        const std::complex<float> turn(static_cast<float>(std::cos(angle)),
                                       static_cast<float>(std::sin(angle)));
        std::complex<float> power = turn;
        for (int k = 0; k < harmonics; ++k, power *= turn) {
            columns(n, column + 2 * k) = power.real();
            columns(n, column + 2 * k + 1) = power.imag();
        }
    }
}

} // namespace

RingingGlideFitter::RingingGlideFitter(std::span<const float> sound, double fromFrequency, double toFrequency,
                                       double sampleRate)
    : f1(fromFrequency), f2(toFrequency), rate(sampleRate), harmonics(leastHarmonics) {
    const double highest = std::max(f1, f2);
    harmonics = std::clamp(static_cast<int>(highestHz / (highest * rate)), leastHarmonics, mostHarmonics);
    const double cut = highest * (harmonics + 0.5);
    thinning = std::max(1, static_cast<int>(1.0 / (cut * samplesPerCycle)));
    thin = thinned(sound, thinning, std::min(0.5, cut));
    f1 *= thinning;
    f2 *= thinning;
    rate /= thinning;
}

double RingingGlideFitter::unexplained(const Trial& trial) const {
    const PitchPath path = glidePath(trial.glide, f1 * (1.0 + trial.firstOff), f2 * (1.0 + trial.secondOff));
    constexpr auto echoes = static_cast<Eigen::Index>(std::size(echoSeconds));
    const Eigen::Index group = 2 * harmonics;
    const Eigen::Index size = (2 + echoes) * group;
    Eigen::MatrixXf columns(thin.size(), size);
    setHarmonics(columns, 0, harmonics, path, 0.0);
    const double left = trial.glide.centre - 0.5 * trial.glide.length;
    for (Eigen::Index n = 0; n < thin.size(); ++n) {
        const double gone =
            std::clamp((static_cast<double>(n) - left) / std::max(1.0, trial.glide.length), 0.0, 1.0);
        columns.row(n).segment(group, group) = static_cast<float>(gone) * columns.row(n).head(group);
    }
    for (Eigen::Index j = 0; j < echoes; ++j)
        setHarmonics(columns, (2 + j) * group, harmonics, path, echoSeconds[j] * rate);
    Eigen::VectorXf cost(size);
    cost.head(group).setConstant(toneCost);
    cost.segment(group, group).setConstant(loudnessCost);
    cost.tail(echoes * group).setConstant(echoCost);
    cost *= static_cast<float>(thin.size());
    Eigen::MatrixXf normal = Eigen::MatrixXf::Zero(size, size);
    normal.selfadjointView<Eigen::Lower>().rankUpdate(columns.transpose());
    normal.diagonal() += cost;
    const Eigen::VectorXf right = columns.transpose() * thin;
    const Eigen::VectorXf strengths = normal.selfadjointView<Eigen::Lower>().llt().solve(right);
    // Of the least-squares solution: |x|^2 - x.M b, what b costs included.
    const float power = std::max(1e-12F, thin.squaredNorm());
    return static_cast<double>((power - right.dot(strengths)) / power);
}

Glide RingingGlideFitter::fit(Glide start, double maxLength) const {
    maxLength /= thinning;
    Trial best{start, 0.0, 0.0};
    best.glide.centre /= thinning;
    best.glide.length = std::min(maxLength, best.glide.length / thinning);
    best.glide.shape = BendShape::straight;
    best.glide.residual = unexplained(best);
    double step = 1.0;
    for (int round = 0; round < rounds && step * lengthStep > finestSeconds; ++round) {
        bool better = false;
        for (int which = 0; which < 8; ++which) {
            const double way = which % 2 == 0 ? step : -step;
            Trial trial = best;
            if (which / 2 == 0)
                trial.glide.centre += way * centreStep * rate;
            else if (which / 2 == 1)
                trial.glide.length = std::clamp(trial.glide.length + way * lengthStep * rate, 0.0, maxLength);
            else if (which / 2 == 2)
                trial.firstOff += way * pitchStep;
            else
                trial.secondOff += way * pitchStep;
            trial.glide.residual = unexplained(trial);
            if (trial.glide.residual < best.glide.residual) {
                best = trial;
                better = true;
            }
        }
        if (!better)
            step *= 0.5;
    }
    best.glide.centre *= thinning;
    best.glide.length *= thinning;
    return best.glide;
}

} // namespace valveladder
