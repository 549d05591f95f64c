#include "Listening/GlideFit.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr int coarsePoints = 150;
constexpr int finePoints = 500;
constexpr double startLengthShare = 0.25; ///< of the longest length, to find the centre first
constexpr int refinements = 7;
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
    : x(sound), envelope(sound), f1(fromFrequency), f2(toFrequency) {
    const double longest = 1.0 / std::min(f1, f2);
    from = longest + 3.0;
    to = static_cast<double>(x.size()) - 3.0;
}

float GlideFitter::soundAt(double place) const {
    const double floor = std::floor(place);
    const auto i = static_cast<std::size_t>(floor);
    const auto f = static_cast<float>(place - floor);
    const float a = x[i - 1];
    const float b = x[i];
    const float c = x[i + 1];
    const float d = x[i + 2];
    const float c1 = c - (1.0F / 3.0F) * a - 0.5F * b - (1.0F / 6.0F) * d;
    const float c2 = 0.5F * (a + c) - b;
    const float c3 = (1.0F / 6.0F) * (d - a) + 0.5F * (b - c);
    return ((c3 * f + c2) * f + c1) * f + b;
}

double GlideFitter::mismatch(double centre, double length, int points) const {
    const Warp warp{centre - 0.5 * length, length, f1, f2};
    const double window = 1.0 / std::min(f1, f2);
    const double step = std::max(1.0, std::floor((to - from) / points));
    constexpr double tiny = 1e-14;
    double sum = 0.0;
    int n = 0;
    for (double t = from; t < to; t += step) {
        const double before = warp.time(warp.phase(t) - 1.0);
        const double here = envelope.meanSquare(t, window) + tiny;
        const double there = envelope.meanSquare(before, window) + tiny;
        const double gain = std::clamp(std::sqrt(here / there), 1.0 / maxGain, maxGain);
        const double difference = static_cast<double>(x[static_cast<std::size_t>(t)]) -
                                  gain * static_cast<double>(soundAt(before));
        sum += difference * difference / (2.0 * here);
        ++n;
    }
    return n == 0 ? 1.0 : sum / n;
}

void GlideFitter::refine(Glide& best, double centreStep, double lengthStep, double maxLength) const {
    best.residual = mismatch(best.centre, best.length, finePoints);
    for (int round = 0; round < refinements; ++round) {
        const Glide before = best;
        for (const double dc : {-centreStep, centreStep, 0.0, 0.0})
            for (const double dl : {0.0, -lengthStep, lengthStep}) {
                if ((dc == 0.0) == (dl == 0.0))
                    continue;
                const double length = std::clamp(best.length + dl, 0.0, maxLength);
                const double r = mismatch(best.centre + dc, length, finePoints);
                if (r < best.residual)
                    best = {best.centre + dc, length, r};
            }
        if (best.centre == before.centre && best.length == before.length) {
            centreStep *= 0.5;
            lengthStep *= 0.5;
        }
    }
}

Glide GlideFitter::fit(double guess, double slack, double maxLength) const {
    Glide best{guess, startLengthShare * maxLength, 1e9};
    const double shortest = 1.0 / std::max(f1, f2);
    const double centreStep = std::clamp(slack / 8.0, 0.05 * shortest, 0.5 * shortest);
    for (double c = guess - slack; c <= guess + slack; c += centreStep) {
        const double r = mismatch(c, best.length, coarsePoints);
        if (r < best.residual)
            best = {c, best.length, r};
    }
    for (const double share : {0.05, 0.12, 0.4, 0.6, 0.8, 1.0}) {
        const double r = mismatch(best.centre, share * maxLength, coarsePoints);
        if (r < best.residual)
            best = {best.centre, share * maxLength, r};
    }
    refine(best, 0.5 * centreStep, 0.08 * maxLength, maxLength);
    return best;
}

} // namespace valveladder
