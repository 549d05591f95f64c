#include "Listening/JoinedTones.h"

#include "Listening/GlideBetween.h"
#include "Listening/GlideConstants.h"
#include "Listening/JoinedTonesConstants.h"
#include "Listening/PhraseConstants.h"
#include "Listening/Scoop.h"
#include "Listening/ToneConstants.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace valveladder {

namespace {

bool isBriefBetween(const PhraseSound& sound, const Tone& before, const Tone& middle, const Tone& after) {
    const bool between = (middle.period - before.period) * (middle.period - after.period) < 0.0;
    return between && touch(sound, before, middle) && touch(sound, middle, after) &&
           middle.length() < sound.lengthOf(tone::passedSeconds);
}

/// Whether the sound about a tone may be one glide between the tones beside it.
bool isPassedThrough(const PhraseSound& sound, Tone before, const Tone& middle, Tone after) {
    if (!isBriefBetween(sound, before, middle, after))
        return false;
    if (std::abs(middle.drift) > joined::passingSpeed / sound.rate)
        return true;
    before.to = after.from = middle.middle();
    const auto once = glideBetween(sound, before, after);
    return once && once->residual < glide::maxResidual;
}

double lowest(const PhraseSound& sound, double from, double to, const Tone& piece) {
    return quietest(sound, from, to, levelWindow(sound, piece)).level;
}

Scoop scoopOf(const PhraseSound& sound, const Tone& piece, const Tone& next) {
    Scoop scoop;
    scoop.seconds = sound.seconds(next.from - piece.from);
    scoop.semitones = std::abs(semitonesAbove(sound, piece, next));
    scoop.gapSeconds = sound.seconds(gapBetween(piece, next));
    scoop.settledSeconds = sound.seconds(next.length());
    scoop.levelOverNext = piece.level / std::max(phrase::silence, next.level);
    scoop.dip = lowest(sound, piece.middle(), next.from, piece) / std::max(phrase::silence, piece.level);
    return scoop;
}

/// Scoop::silenceBefore
double silenceBetween(const PhraseSound& sound, const Tone& before, const Tone& piece) {
    return lowest(sound, before.middle(), piece.from, piece) /
           std::max(phrase::silence, std::min(before.level, piece.level));
}

/// Makes one tone of a piece and the tone that speaks with it.
Tone spokenWith(const PhraseSound& sound, const Tone& piece, Tone tone) {
    const double sharp = semitonesAbove(sound, piece, tone);
    tone.spokeSharp = std::abs(sharp) > std::abs(piece.spokeSharp) ? sharp : piece.spokeSharp;
    tone.settled = tone.from;
    tone.from = piece.from;
    return tone;
}

void erase(std::vector<Tone>& tones, std::size_t i) {
    tones.erase(tones.begin() + static_cast<std::ptrdiff_t>(i));
}

} // namespace

void dropPassedThrough(const PhraseSound& sound, std::vector<Tone>& tones) {
    for (std::size_t i = 1; i + 1 < tones.size();) {
        if (!isPassedThrough(sound, tones[i - 1], tones[i], tones[i + 1])) {
            ++i;
            continue;
        }
        tones[i - 1].to = tones[i + 1].from = tones[i].middle();
        erase(tones, i);
    }
}

void joinScoops(const PhraseSound& sound, std::vector<Tone>& tones) {
    for (std::size_t i = 0; i + 1 < tones.size();) {
        Scoop scoop = scoopOf(sound, tones[i], tones[i + 1]);
        if (i > 0)
            scoop.silenceBefore = silenceBetween(sound, tones[i - 1], tones[i]);
        if (!scoop.isOneNote()) {
            ++i;
            continue;
        }
        tones[i + 1] = spokenWith(sound, tones[i], tones[i + 1]);
        erase(tones, i);
    }
}

} // namespace valveladder
