#include "Listening/TrackFit.h"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace valveladder {

namespace {

/// Lengths tried first, as shares of the longest, and how often the search is narrowed.
constexpr double firstLengths[] = {0.03, 0.12, 0.25, 0.4, 0.6, 0.8, 1.0};
constexpr double firstLength = 0.3;
constexpr double firstLengthStep = 0.1;
constexpr int rounds = 27;
constexpr double finestLengthStep = 1.0;
/// Shorter than this share of the window no glide can be told from another.
constexpr double shortestShare = 0.02;
/// A track point further off than this says no more than one that is just as far.
constexpr double centsCap = 30.0;
/// The pitches on either side cannot be told where the track says less of the one than this.
constexpr double leastDeterminant = 1e-9;
constexpr double hopeless = std::numeric_limits<double>::max();

/// Moves of the middle and the length: either alone, and either end alone.
constexpr std::pair<double, double> moves[] = {{-1.0, 0.0}, {1.0, 0.0},   {0.0, -1.0}, {0.0, 1.0},
                                               {0.5, 1.0},  {-0.5, -1.0}, {0.5, -1.0}, {-0.5, 1.0}};

double cubedIfPositive(double v) {
    return v > 0.0 ? v * v * v : 0.0;
}

using Values = Eigen::Map<const Eigen::ArrayXd>;

Values part(const std::vector<double>& values, std::size_t first, std::size_t last) {
    return {values.data() + first, static_cast<Eigen::Index>(last - first)};
}

template <typename Off, typename Weights>
double cappedSquares(const Off& off, const Weights& weights) {
    return (weights * off.square().min(centsCap * centsCap)).sum();
}

} // namespace

SmearedGlide::SmearedGlide(const Glide& glide, double windowSamples) : window(windowSamples) {
    Glide told = glide;
    told.length = std::max(glide.length, shortestShare * window);
    const std::span<const BendPoint> points = bendPoints(glide.shape);
    double slope = 0.0;
    for (const BendPoint& point : points) {
        const bool last = &point == &points.back();
        const BendPoint& next = last ? point : *(&point + 1);
        const double after =
            last ? 0.0 : (next.share - point.share) / ((next.time - point.time) * told.length);
        corners[count++] = {told.placeOf(point), after - slope};
        slope = after;
    }
}

double SmearedGlide::shareAt(double place) const {
    // Straight pieces are sums of corners; each window smooths a corner from |x| to a cubic.
    double share = 0.0;
    for (std::size_t i = 0; i < count; ++i) {
        const double v = place - corners[i].place;
        if (v <= -window)
            break;
        const double rounded =
            v >= window ? v
                        : (cubedIfPositive(v + window) - 2.0 * cubedIfPositive(v)) / (6.0 * window * window);
        share += corners[i].turn * rounded;
    }
    return share;
}

TrackFit::TrackFit(std::span<const TrackPoint> points, double windowSamples, std::size_t stride)
    : weightsBefore(1, 0.0), centsBefore(1, 0.0), window(windowSamples) {
    for (std::size_t i = 0; i < points.size(); i += stride) {
        const TrackPoint& point = points[i];
        places.push_back(point.place);
        cents.push_back(point.cents);
        weights.push_back(point.weight);
        weightsBefore.push_back(weightsBefore.back() + point.weight);
        centsBefore.push_back(centsBefore.back() + point.weight * point.cents);
    }
    shares.resize(places.size());
}

double TrackFit::error(const Glide& glide) {
    const SmearedGlide smeared(glide, window);
    const auto indexOf = [&](double place) {
        return static_cast<std::size_t>(std::ranges::lower_bound(places, place) - places.begin());
    };
    const std::size_t first = indexOf(smeared.begin());
    const std::size_t last = indexOf(smeared.end());
    const std::size_t size = places.size();
    // Weighted sums: w of nothing, r of the share, rr of its square, y of the cents, ry of both. Beyond the
    // glide's end the share is 1.
    const double w = weightsBefore[size];
    const double y = centsBefore[size];
    double r = w - weightsBefore[last];
    double rr = r;
    double ry = y - centsBefore[last];
    for (std::size_t i = first; i < last; ++i) {
        shares[i] = smeared.shareAt(places[i]);
        const double weighted = weights[i] * shares[i];
        r += weighted;
        rr += weighted * shares[i];
        ry += weighted * cents[i];
    }
    const double determinant = w * rr - r * r;
    if (w <= 0.0 || std::abs(determinant) < leastDeterminant * w * w)
        return hopeless;
    const double height = (w * ry - r * y) / determinant;
    const double base = (y - height * r) / w;
    const double before = cappedSquares(part(cents, 0, first) - base, part(weights, 0, first));
    const double within = cappedSquares(part(cents, first, last) - base - height * part(shares, first, last),
                                        part(weights, first, last));
    const double after = cappedSquares(part(cents, last, size) - (base + height), part(weights, last, size));
    return (before + within + after) / w;
}

Glide TrackFit::rough(const Search& search) {
    Glide best{search.centre, firstLength * search.maxLength, BendShape::straight, 0.0, hopeless};
    for (double c = search.centre - search.slack; c <= search.centre + search.slack; c += search.centreStep)
        for (const double share : firstLengths) {
            Glide trial{c, share * search.maxLength, BendShape::straight, 0.0, 0.0};
            trial.residual = error(trial);
            if (trial.residual < best.residual)
                best = trial;
        }
    return best;
}

Glide TrackFit::refined(Glide start, const Search& search) {
    Glide best = start;
    best.residual = error(best);
    double centreStep = search.centreStep;
    double lengthStep = firstLengthStep * search.maxLength;
    for (int round = 0; round < rounds && lengthStep >= finestLengthStep; ++round) {
        const double before = best.residual;
        for (const auto& [dc, dl] : moves) {
            const bool oneEnd = dc != 0.0 && dl != 0.0;
            Glide trial = best;
            trial.centre += dc * (oneEnd ? lengthStep : centreStep);
            trial.length = std::clamp(best.length + dl * lengthStep, 0.0, search.maxLength);
            trial.residual = error(trial);
            if (trial.residual < best.residual)
                best = trial;
        }
        if (best.residual == before) {
            centreStep *= 0.5;
            lengthStep *= 0.5;
        }
    }
    return best;
}

} // namespace valveladder
