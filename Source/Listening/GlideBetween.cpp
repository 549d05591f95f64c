#include "Listening/GlideBetween.h"

#include "Listening/GlideConstants.h"
#include "Listening/NotePitch.h"
#include "Listening/RingingGlide.h"
#include "Listening/ToneConstants.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

using namespace glide;

double longerPeriod(const Tone& before, const Tone& after) {
    return std::max(before.period, after.period);
}

/// The period about `place`, over `window` samples.
double periodBeside(const PhraseSound& sound, const Tone& tone, double place, double window) {
    return periodAt(sound.samples, place, window, tone.period).value_or(tone.period);
}

/// Longest change that may lie between two tones, samples.
double longestGlide(const PhraseSound& sound, const Tone& before, const Tone& after) {
    const double edge = borderBetween(before, after);
    const double beside = std::min(edge - before.onset, after.to - edge);
    return std::min(sound.lengthOf(maxSeconds), mostOfTone * beside);
}

std::optional<ChangeSound> glideSound(const PhraseSound& sound, const Tone& before, const Tone& after) {
    const double half = 0.5 * longestGlide(sound, before, after);
    return changeSound(sound, before, after, borderBetween(before, after), half);
}

RingingGlideFitter ringingFitter(const ChangeSound& change, double sampleRate) {
    return {change.piece, 1.0 / change.periodBefore, 1.0 / change.periodAfter, sampleRate};
}

} // namespace

GlideFitter ChangeSound::fitter() const {
    return {piece, 1.0 / periodBefore, 1.0 / periodAfter};
}

std::optional<ChangeSound> changeSound(const PhraseSound& sound, const Tone& before, const Tone& after,
                                       double edge, double half) {
    const double longer = longerPeriod(before, after);
    const double window = std::max(sound.lengthOf(tone::pitchWindowSeconds), besidePeriods * longer);
    const double placeBefore = std::max(std::midpoint(before.onset, edge), edge - half - 0.5 * window);
    const double placeAfter = std::min(std::midpoint(edge, after.to), edge + half + 0.5 * window);
    const double from = std::max(0.0, edge - half - periodsBefore * longer);
    const double to =
        std::min(static_cast<double>(sound.samples.size()), edge + half + periodsAfter * longer);
    const std::span<const float> piece = sound.part(from, to);
    if (static_cast<double>(piece.size()) < leastPeriods * longer + leastSamples)
        return std::nullopt;
    return ChangeSound{
        std::floor(from), piece,
        periodBeside(sound, before, placeBefore, std::min(window, 2.0 * (placeBefore - before.onset))),
        periodBeside(sound, after, placeAfter, std::min(window, 2.0 * (after.to - placeAfter)))};
}

std::optional<Glide> glideBetween(const PhraseSound& sound, const Tone& before, const Tone& after) {
    const auto change = glideSound(sound, before, after);
    if (!change)
        return std::nullopt;
    const double maxLength = longestGlide(sound, before, after);
    const double slack = slackPeriods * longerPeriod(before, after) + sound.lengthOf(slackSeconds);
    Glide glide = change->fitter().fit(borderBetween(before, after) - change->first,
                                       std::min(0.5 * maxLength, slack), maxLength);
    glide.centre += change->first;
    return glide;
}

double echoShareBetween(const PhraseSound& sound, const Tone& before, const Tone& after, Glide glide) {
    const auto change = glideSound(sound, before, after);
    if (!change)
        return 0.0;
    glide.centre -= change->first;
    return ringingFitter(*change, sound.rate).echoShare(glide);
}

std::optional<Glide> ringingGlideBetween(const PhraseSound& sound, const Tone& before, const Tone& after,
                                         Glide plain) {
    const auto change = glideSound(sound, before, after);
    if (!change)
        return std::nullopt;
    plain.centre -= change->first;
    Glide glide = ringingFitter(*change, sound.rate).fit(plain, longestGlide(sound, before, after));
    glide.centre += change->first;
    return glide;
}

} // namespace valveladder
