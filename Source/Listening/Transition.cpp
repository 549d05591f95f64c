#include "Listening/Transition.h"

#include "Base/RobustStatistics.h"
#include "Listening/GlideBetween.h"
#include "Listening/GlideConstants.h"
#include "Listening/ToneConstants.h"
#include "Listening/TransitionConstants.h"

#include <algorithm>
#include <cstddef>

namespace valveladder {

namespace {

using namespace transition;

QuietPlace dipBetween(const PhraseSound& sound, const Tone& before, const Tone& after) {
    const double window = std::max(levelWindow(sound, before), levelWindow(sound, after));
    const double reach = sound.lengthOf(tone::edgeSearchSeconds);
    return quietest(sound, std::max(before.middle(), before.to - reach),
                    std::min(after.middle(), after.from + searchedAfter * reach), window);
}

Transition transitionBetween(const PhraseSound& sound, const Tone& before, const Tone& after) {
    Transition transition;
    transition.dip = dipBetween(sound, before, after);
    transition.share = transition.dip.level / std::max(leastLevel, std::min(before.level, after.level));
    transition.touches = touch(sound, before, after);
    if (transition.touches && transition.share > glideDip)
        transition.glide = glideBetween(sound, before, after);
    return transition;
}

bool mostFit(const std::vector<double>& residuals) {
    return residuals.size() >= minTransitions && median(residuals) < glide::usualResidual;
}

bool plainlyBends(std::span<const Transition> transitions) {
    std::vector<double> residuals;
    for (const Transition& t : transitions)
        if (t.glide)
            residuals.push_back(t.glide->residual);
    return mostFit(residuals);
}

/// Whether a change may be a glide under which the first tone rings on.
bool mayRing(const Transition& transition) {
    return transition.glide && transition.share > undippedShare &&
           transition.glide->residual > glide::ringingFrom && transition.glide->residual < glide::ringingTo;
}

std::vector<std::size_t> mayRingIn(std::span<const Transition> transitions) {
    std::vector<std::size_t> places;
    for (std::size_t i = 0; i < transitions.size(); ++i)
        if (mayRing(transitions[i]))
            places.push_back(i);
    return places;
}

bool mostRing(std::span<const std::optional<Glide>> ringing) {
    std::vector<double> residuals;
    for (const auto& glide : ringing)
        residuals.push_back(glide.value_or(Glide{}).residual);
    return mostFit(residuals);
}

} // namespace

std::vector<Transition> transitionsOf(const PhraseSound& sound, std::span<const Tone> tones) {
    std::vector<Transition> transitions;
    for (std::size_t i = 1; i < tones.size(); ++i)
        transitions.push_back(transitionBetween(sound, tones[i - 1], tones[i]));
    return transitions;
}

bool fitBends(const PhraseSound& sound, std::span<const Tone> tones, std::span<Transition> transitions) {
    const std::vector<std::size_t> places = mayRingIn(transitions);
    std::vector<std::optional<Glide>> ringing; // for each of the places
    const auto fitUpTo = [&](std::size_t count) {
        while (ringing.size() < std::min(count, places.size())) {
            const std::size_t i = places[ringing.size()];
            ringing.push_back(ringingGlideBetween(sound, tones[i], tones[i + 1], *transitions[i].glide));
        }
    };
    if (!plainlyBends(transitions)) {
        fitUpTo(ringingLookedAt);
        if (!mostRing(ringing))
            return false;
    }
    fitUpTo(places.size());
    for (std::size_t k = 0; k < places.size(); ++k)
        if (ringing[k])
            transitions[places[k]].glide = ringing[k];
    return true;
}

TransitionKind kindOf(const Transition& transition, bool bent) {
    const double maxResidual = bent ? glide::lenientResidual : glide::maxResidual;
    const bool dips = !bent && transition.share < strangeDip;
    if (transition.glide && transition.glide->residual < maxResidual && !dips)
        return TransitionKind::glide;
    return transition.share < tonguedDip ? TransitionKind::stroke : TransitionKind::takeover;
}

} // namespace valveladder
