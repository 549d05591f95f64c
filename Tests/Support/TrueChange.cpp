#include "Support/TrueChange.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace valveladder::testing {

namespace {

// Of the definition, written here anew: a twentieth of the interval, but no less than 5 cents.
constexpr double twentieth = 0.05;
constexpr double leastSemitones = 0.05;
/// An exponential is cut off after this many time constants.
constexpr double landingEnd = 9.0;

double landed(double time) {
    return 1.0 - std::exp(-time);
}

/// Share by a time that runs from 0 to 1 (landing: to landingEnd).
double shareAt(Bend bend, double time) {
    switch (bend) {
    case Bend::straight:
        return std::clamp(time, 0.0, 1.0);
    case Bend::smooth:
        return 0.5 - 0.5 * std::cos(std::numbers::pi * std::clamp(time, 0.0, 1.0));
    case Bend::landing:
        return time >= landingEnd ? 1.0 : landed(std::max(0.0, time));
    case Bend::leastJerk: {
        const double u = std::clamp(time, 0.0, 1.0);
        return u * u * u * (10.0 + u * (6.0 * u - 15.0));
    }
    }
    return 0.0;
}

double timeOf(Bend bend, double share) {
    double low = 0.0;
    double high = landingEnd;
    for (int i = 0; i < 60; ++i) {
        const double middle = 0.5 * (low + high);
        (shareAt(bend, middle) < share ? low : high) = middle;
    }
    return low;
}

double threshold(double from, double to) {
    return std::max(leastSemitones, twentieth * std::abs(to - from));
}

} // namespace

const char* nameOf(Bend bend) {
    constexpr const char* names[] = {"straight", "smooth", "landing", "least jerk"};
    return names[static_cast<std::size_t>(bend)];
}

double bendShare(Bend bend, double u) {
    const double from = timeOf(bend, twentieth);
    return shareAt(bend, from + u * (timeOf(bend, 1.0 - twentieth) - from));
}

double bendTime(Bend bend, double share) {
    const double from = timeOf(bend, twentieth);
    return (timeOf(bend, share) - from) / (timeOf(bend, 1.0 - twentieth) - from);
}

BendPath::BendPath(const TrueChange& change)
    : bend(change.bend), begin(timeOf(bend, twentieth)), length(timeOf(bend, 1.0 - twentieth) - begin),
      firstMidi(change.fromMidi) {
    const double away = threshold(change.fromMidi, change.toMidi);
    const auto leaves = [&](double from, double to) { return bendTime(bend, away / std::abs(to - from)); };
    const auto reaches = [&](double from, double to) {
        return bendTime(bend, 1.0 - away / std::abs(to - from));
    };
    if (change.stop) {
        const TrueStop& stop = *change.stop;
        const double left = leaves(change.fromMidi, stop.midi);
        whole = stop.apartMs + stop.travelMs * (reaches(stop.midi, change.toMidi) - left);
        const double starts = -0.5 * whole - left * stop.travelMs;
        first = {change.fromMidi, stop.midi, stop.travelMs, starts};
        second = {stop.midi, change.toMidi, stop.travelMs, starts + stop.apartMs};
    } else {
        whole = change.changeoverMs;
        const double left = leaves(change.fromMidi, change.toMidi);
        const double travel = whole / (reaches(change.fromMidi, change.toMidi) - left);
        first = {change.fromMidi, change.toMidi, travel, -0.5 * whole - left * travel};
    }
}

double BendPath::share(const Step& step, double ms) const {
    return shareAt(bend, begin + (ms - step.leftAt) / step.travelMs * length);
}

double BendPath::midiAt(double ms) const {
    double midi = firstMidi + (first.to - first.from) * share(first, ms);
    if (second)
        midi += (second->to - second->from) * share(*second, ms);
    return midi;
}

double BendPath::leadMs() const {
    return begin / length * first.travelMs - first.leftAt;
}

double BendPath::tailMs() const {
    const Step& last = second ? *second : first;
    const double end = bend == Bend::landing ? landingEnd : 1.0;
    return last.leftAt + (end - begin) / length * last.travelMs;
}

} // namespace valveladder::testing
