#include "Listening/Restrikes.h"

#include "Listening/CycleLikeness.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

/// A dip of this many dB weighs 1; so does a loss of likeness of this much.
constexpr double dipDbForOne = 6.0;
constexpr double breakForOne = 0.3;
/// Without a dip a loss of likeness is a change of pitch: it counts for no more than the dip over this.
constexpr double dipDbForBreak = 2.0;
/// Nearer than these shares of the shortest stroke to the tone's beginning and end a dip is how it speaks or
/// dies away.
constexpr double speakingShare = 1.0;
constexpr double dyingShare = 1.1;
constexpr double leastWeight = 0.6;
constexpr double probesAPeriod = 4.0;

struct Probe {
    double place;
    double level;
    double likeness;
};

std::vector<Probe> probe(std::span<const float> x, const Envelope& envelope, double from, double to,
                         double period) {
    std::vector<Probe> probes;
    for (double t = from; t < to; t += period / probesAPeriod)
        probes.push_back({t, envelope.rms(t, period), cycleLikeness(x, t + 0.5 * period, period, period)});
    return probes;
}

Restrike weighAt(const std::vector<Probe>& probes, std::size_t i, std::size_t side) {
    double before = 0.0;
    double after = 0.0;
    double likeBefore = -1.0;
    double likeAfter = -1.0;
    for (std::size_t k = 1; k <= side; ++k) {
        if (i >= k) {
            before = std::max(before, probes[i - k].level);
            likeBefore = std::max(likeBefore, probes[i - k].likeness);
        }
        if (i + k < probes.size()) {
            after = std::max(after, probes[i + k].level);
            likeAfter = std::max(likeAfter, probes[i + k].likeness);
        }
    }
    const double dip = 20.0 * std::log10((std::min(before, after) + 1e-9) / (probes[i].level + 1e-9));
    const double lost = std::min(likeBefore, likeAfter) - probes[i].likeness;
    Restrike found;
    found.place = found.gapFrom = probes[i].place;
    found.dipDb = std::max(0.0, dip);
    found.likenessLost = std::max(0.0, lost);
    found.weight =
        found.dipDb / dipDbForOne + std::min(found.likenessLost / breakForOne, found.dipDb / dipDbForBreak);
    return found;
}

} // namespace

std::vector<Restrike> findRestrikes(std::span<const float> sound, const Envelope& envelope, double from,
                                    double to, double period, double least) {
    std::vector<Restrike> found;
    if (to - from < 2.0 * least)
        return found;
    const std::vector<Probe> probes = probe(sound, envelope, from, to, period);
    const auto side = static_cast<std::size_t>(std::ceil(probesAPeriod * least / period));
    for (std::size_t i = 0; i < probes.size(); ++i) {
        const double place = probes[i].place;
        if (place < from + speakingShare * least || place > to - dyingShare * least)
            continue;
        const Restrike here = weighAt(probes, i, side);
        if (here.weight < leastWeight)
            continue;
        if (!found.empty() && place - found.back().place < least) {
            if (here.weight > found.back().weight)
                found.back() = here;
        } else
            found.push_back(here);
    }
    for (Restrike& r : found) {
        const double low = r.place;
        const double levelAfter = envelope.maxRms(low, std::min(to, low + 2.0 * least), period, period / 4.0);
        const double levelBefore = envelope.maxRms(std::max(from, low - least), low, period, period / 4.0);
        double up = low;
        while (up < low + 2.0 * least && envelope.rms(up, period) < 0.5 * levelAfter)
            up += 1.0;
        double down = low;
        while (down > low - least && envelope.rms(down, period) < 0.5 * levelBefore)
            down -= 1.0;
        r.place = up;
        r.gapFrom = down;
    }
    return found;
}

} // namespace valveladder
