#include "Listening/NoteShape.h"

#include "Base/Units.h"
#include "Listening/HeardNote.h"
#include "Listening/NoteShapeConstants.h"
#include "Listening/PhraseConstants.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

using namespace shape;

std::int8_t levelUnits(const PhraseSound& sound, double place, double window) {
    const double db = decibels(sound.envelope.rms(place, window) + phrase::silence);
    return static_cast<std::int8_t>(
        std::clamp(std::lround(db / HeardNote::shapeDb), quietestUnits, loudestUnits));
}

} // namespace

SoundSpan steadySpan(const PhraseSound& sound, const Tone& tone, double changeoverAfter) {
    const double unsteady = tone.blurred ? sound.lengthOf(blurSeconds) : 0.5 * tone.changeover.value_or(0.0);
    return {std::max(tone.steadyFrom, tone.onset + unsteady),
            std::min(tone.steadyTo, tone.offset - 0.5 * changeoverAfter)};
}

double shapeStart(const Tone& tone, const SoundSpan& steady) {
    return tone.blurred ? tone.onset : steady.from;
}

std::vector<std::int8_t> shapeOf(const PhraseSound& sound, const Tone& tone, const SoundSpan& steady) {
    const double step = sound.lengthOf(HeardNote::shapeStep);
    const double window = levelWindow(sound, tone);
    std::vector<std::int8_t> levels;
    for (double t = shapeStart(tone, steady); t < steady.to && levels.size() < HeardNote::shapeSteps;
         t += step)
        levels.push_back(t + 0.5 * step < steady.from ? HeardNote::noLevel : levelUnits(sound, t, window));
    return levels;
}

} // namespace valveladder
