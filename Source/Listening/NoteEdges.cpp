#include "Listening/NoteEdges.h"

#include "Base/Units.h"
#include "Listening/Attack.h"
#include "Listening/AttackConstants.h"
#include "Listening/GlideConstants.h"
#include "Listening/NoteEdgesConstants.h"
#include "Listening/PhraseConstants.h"
#include "Listening/Takeover.h"
#include "Listening/ToneConstants.h"
#include "Listening/Transition.h"
#include "Valves/Pitch.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

namespace valveladder {

namespace {

using namespace edges;

/// `quiet`: the quietest place before the note, or the earliest at which it may begin.
void setAttack(const PhraseSound& sound, Tone& tone, double quiet) {
    const Attack attack =
        findAttack(sound.envelope, {quiet, tone.from, tone.to, levelWindow(sound, tone), sound.rate});
    tone.onset = attack.onset;
    tone.level = attack.level;
    tone.start = HeardNote::Start::attack;
}

/// Greatest level of a tone before it dies away.
double endLevel(const PhraseSound& sound, const Tone& tone) {
    const double window = levelWindow(sound, tone);
    const double from = std::max(tone.onset, tone.to - sound.lengthOf(endLevelSeconds));
    return sound.envelope.maxRms(from, std::max(from + 1.0, tone.to), window, attack::levelStep * window);
}

/// `ceiling`: where it has ended at the latest.
void setEnd(const PhraseSound& sound, Tone& tone, double ceiling) {
    const double window = levelWindow(sound, tone);
    const double threshold = halfLevel * endLevel(sound, tone);
    double end = std::min(ceiling, tone.to + sound.lengthOf(marginSeconds));
    while (end > tone.onset && sound.envelope.rms(end, window) < threshold)
        end -= 1.0;
    tone.offset = std::max(end, tone.onset);
}

void setGlide(const PhraseSound& sound, const Glide& glide, Tone& before, Tone& after) {
    after.onset = glide.centre;
    after.changeover = glide.length;
    after.start = HeardNote::Start::glide;
    if (std::max(before.swing, after.swing) > tone::leastSwing) {
        // A ramp between two pitches that swing lies anywhere.
        after.onset = after.reached;
        if (std::abs(after.onset - glide.centre) > sound.lengthOf(glide::agreeingSeconds))
            after.changeover.reset();
    }
    const double cents = std::abs(centsBetween(before.period, after.period));
    after.noise =
        glide::noiseShare * glide.deviationCents * glide.length / std::max(glide::leastCents, cents);
    before.offset = after.onset;
}

void setTakeover(const PhraseSound& sound, Tone& before, Tone& after) {
    const Takeover takeover = takeoverBetween(sound, before, after);
    after.onset = takeover.onset;
    after.noise = takeover.noise;
    after.start = HeardNote::Start::attack;
    after.blurred = true;
    before.offset = after.onset;
}

void setTransition(const PhraseSound& sound, const Transition& transition, bool bent, Tone& before,
                   Tone& after) {
    switch (kindOf(transition, bent)) {
    case TransitionKind::glide:
        setGlide(sound, *transition.glide, before, after);
        break;
    case TransitionKind::articulated:
        setAttack(sound, after, transition.dip.place);
        setEnd(sound, before, transition.dip.place);
        break;
    case TransitionKind::takeover:
        setTakeover(sound, before, after);
        break;
    }
}

double quietBefore(const PhraseSound& sound, const Tone& first) {
    const double from = std::max(sound.earliest, first.from - sound.lengthOf(phrase::slowSeconds));
    return quietest(sound, from, first.from, levelWindow(sound, first)).place;
}

double quietAfter(const PhraseSound& sound, const Tone& last) {
    const double to = last.to + sound.lengthOf(marginSeconds);
    return quietest(sound, last.middle(), to, levelWindow(sound, last)).place;
}

} // namespace

void findEdges(const PhraseSound& sound, std::span<Tone> tones) {
    std::vector<Transition> transitions = transitionsOf(sound, tones);
    const bool bent = fitBends(sound, tones, transitions);
    setAttack(sound, tones.front(), quietBefore(sound, tones.front()));
    for (std::size_t i = 0; i < transitions.size(); ++i)
        setTransition(sound, transitions[i], bent, tones[i], tones[i + 1]);
    setEnd(sound, tones.back(), quietAfter(sound, tones.back()));
}

HeardNote::Beginning beginningOf(const PhraseSound& sound, const Tone& tone) {
    HeardNote::Beginning beginning;
    beginning.onset = sound.timeOf(tone.onset);
    beginning.start = tone.start;
    if (tone.changeover)
        beginning.changeoverMs = msPerSecond * sound.seconds(*tone.changeover);
    if (tone.settled > tone.onset && tone.spokeSharp != 0.0)
        beginning.spoke = HeardNote::Spoke{tone.spokeSharp, sound.seconds(tone.settled - tone.onset)};
    return beginning;
}

} // namespace valveladder
