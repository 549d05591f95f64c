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

bool bendsAndRings(const PhraseSound& sound, std::span<const Tone> tones,
                   std::span<const Transition> transitions) {
    std::vector<double> residuals;
    for (std::size_t i = 0; i < transitions.size() && residuals.size() < ringingLookedAt; ++i)
        if (mayRing(transitions[i])) {
            const auto ringing = ringingGlideBetween(sound, tones[i], tones[i + 1], *transitions[i].glide);
            residuals.push_back(ringing.value_or(Glide{}).residual);
        }
    return mostFit(residuals);
}

} // namespace

std::vector<Transition> transitionsOf(const PhraseSound& sound, std::span<const Tone> tones) {
    std::vector<Transition> transitions;
    for (std::size_t i = 1; i < tones.size(); ++i)
        transitions.push_back(transitionBetween(sound, tones[i - 1], tones[i]));
    return transitions;
}

bool bends(const PhraseSound& sound, std::span<const Tone> tones, std::span<const Transition> transitions) {
    return plainlyBends(transitions) || bendsAndRings(sound, tones, transitions);
}

void fitRinging(const PhraseSound& sound, std::span<const Tone> tones, std::span<Transition> transitions) {
    for (std::size_t i = 0; i < transitions.size(); ++i)
        if (mayRing(transitions[i]))
            if (const auto ringing =
                    ringingGlideBetween(sound, tones[i], tones[i + 1], *transitions[i].glide))
                transitions[i].glide = ringing;
}

TransitionKind kindOf(const Transition& transition, bool bent) {
    const double maxResidual = bent ? glide::lenientResidual : glide::maxResidual;
    const bool dips = !bent && transition.share < strangeDip;
    if (transition.glide && transition.glide->residual < maxResidual && !dips)
        return TransitionKind::glide;
    return transition.share < tonguedDip ? TransitionKind::stroke : TransitionKind::takeover;
}

} // namespace valveladder
