#include "Listening/Transition.h"

#include "Base/RobustStatistics.h"
#include "Listening/GlideBetween.h"
#include "Listening/GlideConstants.h"
#include "Listening/ToneConstants.h"
#include "Listening/TransitionConstants.h"

#include <algorithm>
#include <cmath>
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
    transition.samePitch = std::abs(semitonesAbove(sound, after, before)) < onePitchSemitones;
    if (transition.touches && transition.share > glideDip && !transition.samePitch)
        transition.glide = glideBetween(sound, before, after);
    return transition;
}

bool plainlyBends(std::span<const Transition> transitions) {
    std::vector<double> residuals;
    std::vector<double> shares;
    for (const Transition& t : transitions)
        if (t.glide) {
            residuals.push_back(t.glide->residual);
            shares.push_back(t.share);
        }
    return residuals.size() >= minTransitions && median(residuals) < glide::usualResidual &&
           median(shares) > bendingDip;
}

/// The changes of a phrase as glides under which the first tone rings on, each fitted when it is asked for.
class RingingFits {
public:
    RingingFits(const PhraseSound& phrase, std::span<const Tone> its, std::span<const Transition> between)
        : sound(phrase), tones(its), transitions(between), fits(between.size()) {}

    /// Nothing where there is too little sound. Only for a change that may be a glide.
    const std::optional<Glide>& at(std::size_t i) {
        if (!fits[i])
            fits[i] = ringingGlideBetween(sound, tones[i], tones[i + 1], *transitions[i].glide);
        return *fits[i];
    }

    /// Whether most changes are glides, if not plainly then with the first tone ringing on.
    bool mostBend() {
        const std::vector<std::size_t> places = lookedAt();
        const std::size_t half = places.size() / 2;
        if (places.size() < minTransitions || countIllFitting(places, half, false) > half)
            return false;
        return countIllFitting(places, half, true) <= half;
    }

    /// Of a phrase that plainly bends: whether it sounds in a room.
    [[nodiscard]] bool echoes() const {
        const std::vector<std::size_t> places = lookedAt();
        std::vector<double> residuals;
        for (const std::size_t i : places)
            residuals.push_back(transitions[i].glide->residual);
        return median(residuals) >= glide::dryResidual && mostEcho(places);
    }

private:
    /// The first changes that may be glides.
    [[nodiscard]] std::vector<std::size_t> lookedAt() const {
        std::vector<std::size_t> places;
        for (std::size_t i = 0; i < transitions.size() && places.size() < ringingLookedAt; ++i)
            if (transitions[i].glide)
                places.push_back(i);
        return places;
    }

    /// As the median says, which is known as soon as more than half are alike.
    [[nodiscard]] bool mostEcho(std::span<const std::size_t> places) const {
        std::vector<double> shares;
        std::size_t echoing = 0;
        for (const std::size_t i : places) {
            shares.push_back(echoShareBetween(sound, tones[i], tones[i + 1], *transitions[i].glide));
            echoing += shares.back() > glide::leastEchoes ? 1U : 0U;
            if (2 * std::max(echoing, shares.size() - echoing) > places.size())
                return 2 * echoing > places.size();
        }
        return median(shares) > glide::leastEchoes;
    }

    /// Up to one more than `most` of them. `ringing`: with what a fit with echoes leaves unexplained.
    std::size_t countIllFitting(std::span<const std::size_t> places, std::size_t most, bool ringing) {
        std::size_t count = 0;
        for (std::size_t k = 0; k < places.size() && count <= most; ++k)
            if (misfit(places[k], ringing) > glide::mostMisfit)
                ++count;
        return count;
    }

    double misfit(std::size_t i, bool ringing) {
        const double plain = transitions[i].glide->residual;
        if (!ringing || plain > glide::mostMisfit)
            return plain;
        return plain + glide::ringingWeight * std::max(0.0, at(i).value_or(Glide{}).residual) -
               glide::dipWeight * (transitions[i].share - glide::usualDip);
    }

    const PhraseSound& sound;
    std::span<const Tone> tones;
    std::span<const Transition> transitions;
    std::vector<std::optional<std::optional<Glide>>> fits; ///< nothing: not asked for yet
};

} // namespace

std::vector<Transition> transitionsOf(const PhraseSound& sound, std::span<const Tone> tones) {
    std::vector<Transition> transitions;
    for (std::size_t i = 1; i < tones.size(); ++i)
        transitions.push_back(transitionBetween(sound, tones[i - 1], tones[i]));
    return transitions;
}

bool fitBends(const PhraseSound& sound, std::span<const Tone> tones, std::span<Transition> transitions) {
    RingingFits ringing(sound, tones, transitions);
    const bool plainly = plainlyBends(transitions);
    if (plainly ? !ringing.echoes() : !ringing.mostBend())
        return plainly;
    for (std::size_t i = 0; i < transitions.size(); ++i) {
        std::optional<Glide>& found = transitions[i].glide;
        if (!found || found->residual > glide::ringingTo)
            continue;
        const std::optional<Glide>& fit = ringing.at(i);
        if (fit && glide::ringingShare * fit->residual < glide::lenientResidual) {
            found = fit;
            found->residual *= glide::ringingShare;
        }
    }
    return true;
}

TransitionKind kindOf(const Transition& transition, bool bent) {
    const double maxResidual = bent ? glide::lenientResidual : glide::maxResidual;
    const bool dips = !bent && transition.share < strangeDip;
    if (transition.glide && transition.glide->residual < maxResidual && !dips)
        return TransitionKind::glide;
    return transition.share < tonguedDip || transition.samePitch ? TransitionKind::articulated
                                                                 : TransitionKind::takeover;
}

} // namespace valveladder
