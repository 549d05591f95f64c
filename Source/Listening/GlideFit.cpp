#include "Listening/GlideFit.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <tuple>
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
/// A half-done change: steps sought first, as shares of where they may lie, and points that are looked at.
constexpr double halfDoneSteps = 40.0;
constexpr double firstTravelShare = 0.06;
constexpr int roughPoints = 60;

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

PitchPath glidePath(const Glide& glide, double f1, double f2) {
    std::array<PitchPath::Knot, PitchPath::maxKnots> knots;
    std::size_t count = 0;
    for (const BendPoint& point : bendPoints(glide.shape))
        knots[count++] = {glide.centre + (point.time - 0.5) * glide.length, f1 + point.share * (f2 - f1)};
    return PitchPath(std::span(knots).first(count));
}

PitchPath GlideFitter::pathOf(const HalfDoneGlide& glide, double midFrequency) const {
    const double half = 0.5 * glide.travel;
    return PitchPath(std::array<PitchPath::Knot, 4>{{{glide.first - half, f1},
                                                     {glide.first + half, midFrequency},
                                                     {glide.second - half, midFrequency},
                                                     {glide.second + half, f2}}});
}

double GlideFitter::mismatch(const PitchPath& path, double first, double last, int points) const {
    const double step = std::max(1.0, std::floor((last - first) / points));
    constexpr double tiny = 1e-14;
    double sum = 0.0;
    double power = tiny;
    for (double t = std::ceil(first); t < last; t += step) {
        const double before = path.time(path.phase(t) - 1.0);
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

double GlideFitter::mismatchOf(const Glide& glide, double first, double last) const {
    return mismatch(glidePath(glide, f1, f2), std::max(from, first), std::min(to, last), judgedPoints);
}

double GlideFitter::judge(const Glide& glide) const {
    const PitchPath path = glidePath(glide, f1, f2);
    const double reach = 0.5 * glide.length + 1.2 * window;
    const double first = std::max(from, glide.centre - reach + window);
    const double last = std::min(to, glide.centre + reach);
    const double within = mismatch(path, first, last, judgedPoints);
    const double before = first - from > window ? mismatch(path, from, first, judgedPoints) : within;
    const double after = to - last > window ? mismatch(path, last, to, judgedPoints) : within;
    return std::max(0.0, within - std::min({before, after, within}));
}

double smearedShare(double t, const Glide& glide, double window) {
    // Straight pieces are sums of corners; each window smooths a corner from |x| to a cubic.
    const auto cubed = [](double v) { return v > 0.0 ? v * v * v : 0.0; };
    const auto corner = [&](double v) {
        return v <= -window ? 0.0
               : v >= window
                   ? v
                   : (cubed(v + window) - 2.0 * cubed(v) + cubed(v - window)) / (6.0 * window * window);
    };
    const std::span<const BendPoint> points = bendPoints(glide.shape);
    const double length = std::max(glide.length, 0.02 * window);
    double share = 0.0;
    double slope = 0.0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const bool last = i + 1 == points.size();
        const double next =
            last ? 0.0
                 : (points[i + 1].share - points[i].share) / ((points[i + 1].time - points[i].time) * length);
        const double place = glide.centre + (points[i].time - 0.5) * length;
        share += (next - slope) * corner(t - place);
        slope = next;
    }
    return share;
}

namespace {

/// How well a glide explains the track, both settled pitches free: weighted mean of capped squared cents.
double trackError(const std::vector<TrackPoint>& track, const Glide& glide, double window,
                  std::size_t stride) {
    double w = 0.0;
    double r = 0.0;
    double rr = 0.0;
    double y = 0.0;
    double ry = 0.0;
    std::vector<double> shares;
    shares.reserve(track.size() / stride + 1);
    for (std::size_t i = 0; i < track.size(); i += stride) {
        const double v = smearedShare(track[i].place, glide, window);
        shares.push_back(v);
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
        const double off = track[i].cents - base - height * shares[k];
        error += track[i].weight * std::min(off * off, centsCap * centsCap);
    }
    return error / w;
}

} // namespace

Glide GlideFitter::fitTrack(const std::vector<TrackPoint>& track, Glide best, double centreStep,
                            double maxLength) const {
    best.residual = trackError(track, best, window, 1);
    double lengthStep = 0.1 * maxLength;
    for (int round = 0; round < 3 * narrowings; ++round) {
        const Glide before = best;
        // Either alone, and either end alone.
        for (const auto& [dc, dl] : {std::pair{-1.0, 0.0},
                                     {1.0, 0.0},
                                     {0.0, -1.0},
                                     {0.0, 1.0},
                                     {0.5, 1.0},
                                     {-0.5, -1.0},
                                     {0.5, -1.0},
                                     {-0.5, 1.0}}) {
            const bool both = dc != 0.0 && dl != 0.0;
            Glide trial = best;
            trial.centre += dc * (both ? lengthStep : centreStep);
            trial.length = std::clamp(best.length + dl * lengthStep, 0.0, maxLength);
            trial.residual = trackError(track, trial, window, 1);
            if (trial.residual < best.residual)
                best = trial;
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

Glide GlideFitter::roughFit(const std::vector<TrackPoint>& track, double guess, double slack,
                            double centreStep, double maxLength) const {
    const std::size_t stride = std::max<std::size_t>(1, track.size() / 40);
    Glide best{guess, 0.3 * maxLength, BendShape::straight, 0.0, 1e9};
    for (double c = guess - slack; c <= guess + slack; c += centreStep)
        for (const double share : firstLengths) {
            Glide trial{c, share * maxLength, BendShape::straight, 0.0, 0.0};
            trial.residual = trackError(track, trial, window, stride);
            if (trial.residual < best.residual)
                best = trial;
        }
    return best;
}

Glide GlideFitter::fit(double guess, double slack, double maxLength) const {
    const double step = std::max(minTrackStep, window / trackPointsAPeriod);
    const auto track =
        trackPitch(x, envelope, window, static_cast<double>(x.size()) - window, step, 1.0 / f1, 1.0 / f2);
    const double centreStep = std::max(4.0, std::min(slack / 4.0, 0.02 * maxLength + 0.5 * window));
    const Glide rough = roughFit(track, guess, slack, centreStep, maxLength);
    std::optional<Glide> best;
    for (const BendShape shape : bendShapes) {
        Glide trial = best.value_or(rough);
        trial.shape = shape;
        trial = fitTrack(track, trial, 0.5 * centreStep, maxLength);
        if (!best || trial.residual < best->residual)
            best = trial;
    }
    best->unrest = std::min(centsCap, std::sqrt(best->residual));
    best->residual = judge(*best);
    return *best;
}

HalfDoneGlide GlideFitter::fitHalfDone(double midFrequency, double first, double last) const {
    const double begin = std::max(from, first - window);
    const double end = std::min(to, last + 1.5 * window);
    const auto judged = [&](HalfDoneGlide trial, int points) {
        trial.mismatch = mismatch(pathOf(trial, midFrequency), begin, end, points);
        return trial;
    };
    HalfDoneGlide best;
    const double travel = firstTravelShare * (last - first);
    const double step = std::max(1.0, (last - first) / halfDoneSteps);
    for (double a = first; a < last; a += step)
        for (double b = a + travel; b < last; b += step)
            if (const auto trial = judged({a, b, travel, 0.0, 0.0, 1.0}, roughPoints);
                trial.mismatch < best.mismatch)
                best = trial;
    best = judged(best, judgedPoints);
    for (double move = step; move >= 0.5; move *= 0.5)
        for (bool better = true; better;) {
            better = false;
            for (const auto& [da, db, dt] : {std::tuple{-1.0, 0.0, 0.0},
                                             {1.0, 0.0, 0.0},
                                             {0.0, -1.0, 0.0},
                                             {0.0, 1.0, 0.0},
                                             {0.0, 0.0, -1.0},
                                             {0.0, 0.0, 1.0}}) {
                HalfDoneGlide trial = best;
                trial.first += da * move;
                trial.second += db * move;
                trial.travel = std::max(0.0, trial.travel + dt * move);
                if (trial.second - trial.first < trial.travel)
                    continue;
                trial = judged(trial, judgedPoints);
                if (trial.mismatch < best.mismatch) {
                    best = trial;
                    better = true;
                }
            }
        }
    const double threshold = leftThresholdCents(1200.0 * std::log2(f2 / f1));
    const auto shareOf = [&](double a, double b) {
        return std::min(1.0, threshold / std::max(1.0, std::abs(1200.0 * std::log2(b / a))));
    };
    best.left = best.first + best.travel * (shareOf(f1, midFrequency) - 0.5);
    best.reached = best.second + best.travel * (0.5 - shareOf(midFrequency, f2));
    return best;
}

} // namespace valveladder
