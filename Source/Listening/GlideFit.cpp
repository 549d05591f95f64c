#include "Listening/GlideFit.h"

#include "Listening/PitchTrack.h"
#include "Listening/TrackFit.h"
#include "Valves/Interval.h"

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
/// So many of them are looked at first.
constexpr std::size_t roughTrackPoints = 40;
/// More tells nothing.
constexpr double mostDeviationCents = 30.0;
/// Louder and softer by no more than this from cycle to cycle.
constexpr double maxGain = 4.0;
/// A glide is judged so far to either side of it, in windows; our choice, no source.
constexpr double judgedBeside = 1.2;
/// A half-done change is compared so far after the last place it may lie at, in windows, and one before the
/// first; our choice, no source.
constexpr double halfDoneAfter = 1.5;
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
    smoothed.resize(x.size());
    for (std::size_t i = 1; i + 1 < x.size(); ++i)
        smoothed[i] = 0.25F * x[i - 1] + 0.5F * x[i] + 0.25F * x[i + 1];
}

float GlideFitter::soundAt(double place) const {
    const double floor = std::floor(place);
    const auto i = static_cast<std::size_t>(floor);
    const auto f = static_cast<float>(place - floor);
    const float a = smoothed[i - 1];
    const float b = smoothed[i];
    const float c = smoothed[i + 1];
    const float d = smoothed[i + 2];
    const float c1 = c - (1.0F / 3.0F) * a - 0.5F * b - (1.0F / 6.0F) * d;
    const float c2 = 0.5F * (a + c) - b;
    const float c3 = (1.0F / 6.0F) * (d - a) + 0.5F * (b - c);
    return ((c3 * f + c2) * f + c1) * f + b;
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
        const auto now = static_cast<double>(smoothed[static_cast<std::size_t>(t)]);
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
    const double reach = 0.5 * glide.length + judgedBeside * window;
    const double first = std::max(from, glide.centre - reach + window);
    const double last = std::min(to, glide.centre + reach);
    const double within = mismatch(path, first, last, judgedPoints);
    const double before = first - from > window ? mismatch(path, from, first, judgedPoints) : within;
    const double after = to - last > window ? mismatch(path, last, to, judgedPoints) : within;
    return std::max(0.0, within - std::min({before, after, within}));
}

Glide GlideFitter::fit(double guess, double slack, double maxLength) const {
    const double step = std::max(minTrackStep, window / trackPointsAPeriod);
    const auto track =
        trackPitch(x, envelope, window, static_cast<double>(x.size()) - window, step, 1.0 / f1, 1.0 / f2);
    const TrackFit::Search wide{
        guess, slack, std::max(minTrackStep, std::min(slack / 4.0, 0.02 * maxLength + 0.5 * window)),
        maxLength};
    TrackFit::Search near = wide;
    near.centreStep = 0.5 * wide.centreStep;
    const Glide rough =
        TrackFit(track, window, std::max<std::size_t>(1, track.size() / roughTrackPoints)).rough(wide);
    TrackFit whole(track, window, 1);
    std::optional<Glide> best;
    for (const BendShape shape : bendShapes) {
        Glide trial = best.value_or(rough);
        trial.shape = shape;
        trial = whole.refined(trial, near);
        if (!best || trial.residual < best->residual)
            best = trial;
    }
    best->deviationCents = std::min(mostDeviationCents, std::sqrt(best->residual));
    best->residual = judge(*best);
    return *best;
}

HalfDoneGlide GlideFitter::fitHalfDone(double midFrequency, double first, double last) const {
    const HalfDoneSearch search{midFrequency,
                                first,
                                last,
                                std::max(from, first - window),
                                std::min(to, last + halfDoneAfter * window),
                                std::max(1.0, (last - first) / halfDoneSteps)};
    HalfDoneGlide best = judged(roughHalfDone(search), search, judgedPoints);
    for (double move = search.step; move >= 0.5; move *= 0.5)
        while (improve(best, search, move)) {
        }
    tellEdges(best, midFrequency);
    return best;
}

HalfDoneGlide GlideFitter::judged(HalfDoneGlide trial, const HalfDoneSearch& search, int points) const {
    trial.mismatch = mismatch(pathOf(trial, search.midFrequency), search.begin, search.end, points);
    return trial;
}

/// The best of a grid of places, with steps of one travel.
HalfDoneGlide GlideFitter::roughHalfDone(const HalfDoneSearch& search) const {
    HalfDoneGlide best;
    const double travel = firstTravelShare * (search.last - search.first);
    for (double a = search.first; a < search.last; a += search.step)
        for (double b = a + travel; b < search.last; b += search.step)
            if (const auto trial = judged({a, b, travel, 0.0, 0.0, 1.0}, search, roughPoints);
                trial.mismatch < best.mismatch)
                best = trial;
    return best;
}

/// Moves either step, and changes their travel, by `move` samples wherever that fits better; false where
/// nothing does.
bool GlideFitter::improve(HalfDoneGlide& best, const HalfDoneSearch& search, double move) const {
    bool better = false;
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
        trial = judged(trial, search, judgedPoints);
        if (trial.mismatch < best.mismatch) {
            best = trial;
            better = true;
        }
    }
    return better;
}

/// When the first pitch is left and the second reached.
void GlideFitter::tellEdges(HalfDoneGlide& glide, double midFrequency) const {
    const double threshold = leftThresholdCents(centsOf(f2 / f1));
    const auto shareOf = [&](double a, double b) {
        return std::min(1.0, threshold / std::max(1.0, std::abs(centsOf(b / a))));
    };
    glide.left = glide.first + glide.travel * (shareOf(f1, midFrequency) - 0.5);
    glide.reached = glide.second + glide.travel * (0.5 - shareOf(midFrequency, f2));
}

} // namespace valveladder
