#include "Listening/Rearticulations.h"

#include "Base/Units.h"
#include "Listening/CycleCorrelation.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

/// A dip of this many dB weighs 1; so does a loss of correlation of this much.
constexpr double dipDbForOne = 6.0;
constexpr double breakForOne = 0.3;
/// Without a dip a loss of correlation is a change of pitch: it counts for no more than the dip over this.
constexpr double dipDbForBreak = 2.0;
/// Nearer than these shares of the shortest articulation to the tone's beginning and end a dip is how it
/// speaks or dies away.
constexpr double speakingShare = 0.6;
constexpr double dyingShare = 1.0;
/// Shortest tone that can hold two articulations, in shortest distances between articulations.
constexpr double leastTone = 1.5;
/// Sameness compares this many periods, so many shortest distances away, no farther than a little outside the
/// tone.
constexpr double samePeriods = 1.5;
constexpr double sameLeast = 0.16; ///< shortest, in shortest distances
constexpr double sameAway = 0.9;
constexpr double sameOutside = 0.4;
/// And after it so much farther: an articulation that swells slowly takes its time to sound like the one
/// before.
constexpr double sameFarther[] = {0.0, 0.6, 1.2};
constexpr double leastWeight = 0.6;
constexpr double probesAPeriod = 4.0;
/// An articulation's edge is where it has this share of its level, at most so many shortest distances after
/// the dip, or one before it; our choice, no source.
constexpr double edgeLevel = 0.5;
constexpr double edgeAfter = 2.0;
/// Full scale = 1; added to levels, so that those of silence have a ratio.
constexpr double addedLevel = 1e-9;

struct Probe {
    double place;
    double level;
    double correlation;
};

std::vector<Probe> probe(std::span<const float> x, const Envelope& envelope, double from, double to,
                         double period, double swing) {
    std::vector<Probe> probes;
    for (double t = from; t < to; t += period / probesAPeriod)
        probes.push_back({t, envelope.rms(t, period),
                          cycleCorrelation(x, t + 0.5 * period, period, period, strayShare + swing)});
    return probes;
}

Rearticulation weighAt(const std::vector<Probe>& probes, std::size_t i, std::size_t side) {
    double before = 0.0;
    double after = 0.0;
    double likeBefore = -1.0;
    double likeAfter = -1.0;
    for (std::size_t k = 1; k <= side; ++k) {
        if (i >= k) {
            before = std::max(before, probes[i - k].level);
            likeBefore = std::max(likeBefore, probes[i - k].correlation);
        }
        if (i + k < probes.size()) {
            after = std::max(after, probes[i + k].level);
            likeAfter = std::max(likeAfter, probes[i + k].correlation);
        }
    }
    const double dip = decibels((std::min(before, after) + addedLevel) / (probes[i].level + addedLevel));
    const double lost = std::min(likeBefore, likeAfter) - probes[i].correlation;
    Rearticulation found;
    found.place = found.gapFrom = found.dip = probes[i].place;
    found.dipDb = std::max(0.0, dip);
    found.swell = (after + addedLevel) / (before + addedLevel);
    found.correlationLost = std::max(0.0, lost);
    found.weight = found.dipDb / dipDbForOne +
                   std::min(found.correlationLost / breakForOne, found.dipDb / dipDbForBreak);
    return found;
}

/// See Rearticulation::sameness.
double samenessAbout(std::span<const float> x, double place, double from, double to, double period,
                     double least, double farther) {
    const double window = std::max(samePeriods * period, sameLeast * least);
    const double away = sameAway * least + 0.5 * window;
    const double before = std::max(place - away, from - sameOutside * least + 0.5 * window);
    const double after = std::min(place + away + farther * least, to + sameOutside * least - 0.5 * window);
    const auto count = static_cast<std::ptrdiff_t>(std::lround(window));
    const auto early = static_cast<std::ptrdiff_t>(std::lround(before - 0.5 * window));
    const auto late = static_cast<std::ptrdiff_t>(std::lround(after - 0.5 * window));
    const auto half = static_cast<std::ptrdiff_t>(std::ceil(0.5 * period)); // whatever the phase
    if (early < 0 || late - half < 0 || late + half + count > static_cast<std::ptrdiff_t>(x.size()))
        return 0.0;
    return std::max(0.0, bestCorrelation(x, early, late, static_cast<std::size_t>(count), half));
}

/// Moves the edges from the quietest place to where either articulation has edgeLevel of its level.
void findArticulationEdges(Rearticulation& r, const Envelope& envelope, double from, double to, double period,
                           double least) {
    const double latest = r.dip + edgeAfter * least;
    const double step = period / probesAPeriod;
    const double levelAfter = envelope.maxRms(r.dip, std::min(to, latest), period, step);
    const double levelBefore = envelope.maxRms(std::max(from, r.dip - least), r.dip, period, step);
    while (r.place < latest && envelope.rms(r.place, period) < edgeLevel * levelAfter)
        r.place += 1.0;
    while (r.gapFrom > r.dip - least && envelope.rms(r.gapFrom, period) < edgeLevel * levelBefore)
        r.gapFrom -= 1.0;
}

} // namespace

std::vector<Rearticulation> findRearticulations(std::span<const float> sound, const Envelope& envelope,
                                                double from, double to, double period, double least,
                                                double swing) {
    std::vector<Rearticulation> found;
    if (to - from < leastTone * least)
        return found;
    const std::vector<Probe> probes = probe(sound, envelope, from, to, period, swing);
    const auto side = static_cast<std::size_t>(std::ceil(probesAPeriod * least / period));
    for (std::size_t i = 0; i < probes.size(); ++i) {
        const double place = probes[i].place;
        if (place < from + speakingShare * least || place > to - dyingShare * least)
            continue;
        const Rearticulation here = weighAt(probes, i, side);
        if (here.weight < leastWeight)
            continue;
        if (!found.empty() && place - found.back().place < least) {
            if (here.weight > found.back().weight)
                found.back() = here;
        } else
            found.push_back(here);
    }
    for (Rearticulation& r : found) {
        for (const double farther : sameFarther)
            r.sameness = std::max(r.sameness, samenessAbout(sound, r.dip, from, to, period, least, farther));
        findArticulationEdges(r, envelope, from, to, period, least);
    }
    return found;
}

} // namespace valveladder
