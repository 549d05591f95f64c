#include "Listening/Attack.h"

#include "Listening/AttackConstants.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

using namespace attack;

double levelWithin(const Envelope& envelope, const AttackSearch& s, double from, double to) {
    return envelope.maxRms(from, to, s.window, levelStep * s.window);
}

/// What still sounds of the note before adds its energy.
double thresholdOf(double level, double left) {
    return std::min(std::hypot(onsetLevel * level, leftAtOnset * left), loudShare * level);
}

/// The first place from `from` on at which `threshold` is reached; `to` where it is not.
double firstReached(const Envelope& envelope, const AttackSearch& s, double from, double to,
                    double threshold) {
    double t = from;
    while (t < to && envelope.rms(t, s.window) < threshold)
        t += 1.0;
    return t;
}

/// Back from where it has a pitch already, over dips as it swells: the first place at which the note is
/// heard.
double firstHeard(const Envelope& envelope, const AttackSearch& s, double threshold) {
    const double step = levelStep * s.window;
    double heard = s.from;
    for (double t = s.from; t > s.quiet && heard - t < mostDipSeconds * s.rate; t -= step)
        if (envelope.rms(t, s.window) >= threshold)
            heard = t;
    return heard;
}

Attack outOfSilence(const Envelope& envelope, const AttackSearch& s, double left) {
    const double most = levelWithin(envelope, s, s.quiet, std::min(s.to, s.from + levelSeconds * s.rate));
    const double heard = firstHeard(envelope, s, std::max(heardShare * most, overLeft * left));
    const double last = std::min(s.to, heard + levelSeconds * s.rate);
    const double level = levelWithin(envelope, s, heard, last);
    return {firstReached(envelope, s, heard, last, thresholdOf(level, left)), level};
}

Attack riseWithin(const Envelope& envelope, const AttackSearch& s, double left, double last) {
    const double first = std::min(s.from, s.quiet);
    const double level = levelWithin(envelope, s, first, last);
    double loud = first;
    while (loud < last && envelope.rms(loud, s.window) < loudShare * level)
        loud += fineStep * s.window;
    const double floor = std::max(0.0, s.quiet - s.window);
    return {riseBefore(envelope, loud, floor, s.window, thresholdOf(level, left)), level};
}

Attack overSound(const Envelope& envelope, const AttackSearch& s, double left) {
    Attack attack = riseWithin(envelope, s, left, std::min(s.to, s.from + levelSeconds * s.rate));
    // A first articulation that was soft and short: the rise found is the second one's.
    if (attack.onset > s.from + leastArticulationSeconds * s.rate) {
        const Attack first = riseWithin(envelope, s, left, attack.onset - 0.5 * s.window);
        if (first.level > firstArticulationShare * attack.level)
            attack.onset = first.onset;
    }
    return attack;
}

} // namespace

Attack findAttack(const Envelope& envelope, const AttackSearch& search) {
    const double left = envelope.rms(search.quiet, search.window);
    const double level = levelWithin(envelope, search, std::min(search.from, search.quiet),
                                     std::min(search.to, search.from + levelSeconds * search.rate));
    return left < silenceShare * level ? outOfSilence(envelope, search, left)
                                       : overSound(envelope, search, left);
}

} // namespace valveladder
