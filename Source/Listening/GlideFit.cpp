#include "Listening/GlideFit.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace valveladder {

namespace {

constexpr int judgedPoints = 200;
/// Points of the pitch track a period, and their least distance.
constexpr double trackPointsAPeriod = 6.0;
constexpr double minTrackStep = 4.0;
/// Ramp lengths tried first, as shares of the longest, and how often the search is narrowed.
constexpr double firstLengths[] = {0.03, 0.12, 0.25, 0.4, 0.6, 0.8, 1.0};
constexpr int narrowings = 9;
/// A track point further off than this says no more than one that is just as far.
constexpr double centsCap = 30.0;
/// Louder and softer by no more than this from cycle to cycle.
constexpr double maxGain = 4.0;

/// Phase of a glide in cycles, 0 at its start; and the time of a phase.
struct Warp {
    double start;
    double length;
    double f1;
    double f2;

    [[nodiscard]] double slope() const { return length > 0.0 ? (f2 - f1) / length : 0.0; }
    [[nodiscard]] double phaseOfEnd() const { return 0.5 * (f1 + f2) * length; }
    [[nodiscard]] double phase(double t) const {
        const double u = t - start;
        if (u <= 0.0)
            return f1 * u;
        if (u < length)
            return u * (f1 + 0.5 * slope() * u);
        return phaseOfEnd() + f2 * (u - length);
    }
    [[nodiscard]] double time(double p) const {
        if (p <= 0.0)
            return start + p / f1;
        if (p < phaseOfEnd())
            return start + 2.0 * p / (f1 + std::sqrt(std::max(0.0, f1 * f1 + 2.0 * slope() * p)));
        return start + length + (p - phaseOfEnd()) / f2;
    }
};

} // namespace

GlideFitter::GlideFitter(std::span<const float> sound, double fromFrequency, double toFrequency)
    : x(sound), envelope(sound), f1(fromFrequency), f2(toFrequency),
      window(std::round(0.5 * (1.0 / fromFrequency + 1.0 / toFrequency))) {
    const double longest = 1.0 / std::min(f1, f2);
    from = longest + 3.0;
    to = static_cast<double>(x.size()) - 3.0;
    mellow.resize(x.size());
    for (std::size_t i = 1; i + 1 < x.size(); ++i)
        mellow[i] = 0.25F * x[i - 1] + 0.5F * x[i] + 0.25F * x[i + 1];
}

float GlideFitter::soundAt(double place) const {
    const double floor = std::floor(place);
    const auto i = static_cast<std::size_t>(floor);
    const auto f = static_cast<float>(place - floor);
    const float a = mellow[i - 1];
    const float b = mellow[i];
    const float c = mellow[i + 1];
    const float d = mellow[i + 2];
    const float c1 = c - (1.0F / 3.0F) * a - 0.5F * b - (1.0F / 6.0F) * d;
    const float c2 = 0.5F * (a + c) - b;
    const float c3 = (1.0F / 6.0F) * (d - a) + 0.5F * (b - c);
    return ((c3 * f + c2) * f + c1) * f + b;
}

double GlideFitter::mismatch(const Glide& glide, double first, double last) const {
    const Warp warp{glide.centre - 0.5 * glide.length, glide.length, f1, f2};
    const double step = std::max(1.0, std::floor((last - first) / judgedPoints));
    constexpr double tiny = 1e-14;
    double sum = 0.0;
    double power = tiny;
    for (double t = std::ceil(first); t < last; t += step) {
        const double before = warp.time(warp.phase(t) - 1.0);
        if (before < 2.0)
            continue;
        const double here = envelope.meanSquare(t, window) + tiny;
        const double there = envelope.meanSquare(before, window) + tiny;
        const double gain = std::clamp(std::sqrt(here / there), 1.0 / maxGain, maxGain);
        const auto now = static_cast<double>(mellow[static_cast<std::size_t>(t)]);
        const double difference = now - gain * static_cast<double>(soundAt(before));
        sum += difference * difference / here;
        power += 2.0 * now * now / here;
    }
    return sum / power;
}

double GlideFitter::judge(const Glide& glide) const {
    const double reach = 0.5 * glide.length + 1.2 * window;
    const double first = std::max(from, glide.centre - reach + window);
    const double last = std::min(to, glide.centre + reach);
    const double within = mismatch(glide, first, last);
    const double before = first - from > window ? mismatch(glide, from, first) : within;
    const double after = to - last > window ? mismatch(glide, last, to) : within;
    return std::max(0.0, within - std::min({before, after, within}));
}

double smearedRamp(double t, double centre, double length, double window) {
    // A ramp is the difference of two corners; each window smooths a corner from |x| to a cubic.
    const auto cubed = [](double v) { return v > 0.0 ? v * v * v : 0.0; };
    const auto corner = [&](double v) {
        return (cubed(v + window) - 2.0 * cubed(v) + cubed(v - window)) / (6.0 * window * window);
    };
    const double l = std::max(length, 0.02 * window);
    return (corner(t - centre + 0.5 * l) - corner(t - centre - 0.5 * l)) / l;
}

namespace {

/// How well a ramp explains the track, both settled pitches free: weighted mean of capped squared cents.
double rampError(const std::vector<TrackPoint>& track, double centre, double length, double window,
                 std::size_t stride) {
    double w = 0.0;
    double r = 0.0;
    double rr = 0.0;
    double y = 0.0;
    double ry = 0.0;
    std::vector<double> ramp;
    ramp.reserve(track.size() / stride + 1);
    for (std::size_t i = 0; i < track.size(); i += stride) {
        const double v = smearedRamp(track[i].place, centre, length, window);
        ramp.push_back(v);
        w += track[i].weight;
        r += track[i].weight * v;
        rr += track[i].weight * v * v;
        y += track[i].weight * track[i].cents;
        ry += track[i].weight * v * track[i].cents;
    }
    const double det = w * rr - r * r;
    if (w <= 0.0 || std::abs(det) < 1e-9 * w * w)
        return 1e9;
    const double height = (w * ry - r * y) / det;
    const double base = (y - height * r) / w;
    double error = 0.0;
    for (std::size_t i = 0, k = 0; i < track.size(); i += stride, ++k) {
        const double off = track[i].cents - base - height * ramp[k];
        error += track[i].weight * std::min(off * off, centsCap * centsCap);
    }
    return error / w;
}

} // namespace

Glide GlideFitter::fitTrack(const std::vector<TrackPoint>& track, double guess, double slack,
                            double maxLength) const {
    double centreStep = std::max(4.0, std::min(slack / 4.0, 0.02 * maxLength + 0.5 * window));
    const std::size_t stride = std::max<std::size_t>(1, track.size() / 40);
    Glide best{guess, 0.3 * maxLength, 0.0, 1e9};
    for (double c = guess - slack; c <= guess + slack; c += centreStep)
        for (const double share : firstLengths) {
            const double e = rampError(track, c, share * maxLength, window, stride);
            if (e < best.residual)
                best = {c, share * maxLength, 0.0, e};
        }
    best.residual = rampError(track, best.centre, best.length, window, 1);
    double lengthStep = 0.1 * maxLength;
    centreStep *= 0.5;
    for (int round = 0; round < 3 * narrowings; ++round) {
        const Glide before = best;
        for (const auto& [dc, dl] : {std::pair{-1.0, 0.0}, {1.0, 0.0}, {0.0, -1.0}, {0.0, 1.0}}) {
            const Glide trial{best.centre + dc * centreStep,
                              std::clamp(best.length + dl * lengthStep, 0.0, maxLength)};
            const double e = rampError(track, trial.centre, trial.length, window, 1);
            if (e < best.residual)
                best = {trial.centre, trial.length, 0.0, e};
        }
        if (best.residual == before.residual) {
            centreStep *= 0.5;
            lengthStep *= 0.5;
            if (lengthStep < 1.0)
                break;
        }
    }
    return best;
}

Glide GlideFitter::fit(double guess, double slack, double maxLength) const {
    const double step = std::max(minTrackStep, window / trackPointsAPeriod);
    const auto track =
        trackPitch(x, envelope, window, static_cast<double>(x.size()) - window, step, 1.0 / f1, 1.0 / f2);
    Glide glide = fitTrack(track, guess, slack, maxLength);
    glide.unrest = std::min(centsCap, std::sqrt(glide.residual));
    glide.residual = judge(glide);
    return glide;
}

} // namespace valveladder
