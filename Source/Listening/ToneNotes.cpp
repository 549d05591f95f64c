#include "Listening/ToneNotes.h"

#include "Base/Units.h"
#include "Listening/AttackConstants.h"
#include "Listening/CommonDip.h"
#include "Listening/CycleCorrelation.h"
#include "Listening/NoteShape.h"
#include "Listening/Rearticulations.h"
#include "Listening/Scoop.h"
#include "Listening/ToneConstants.h"
#include "Listening/ToneNotesConstants.h"
#include "Valves/Interval.h"
#include "Valves/Pitch.h"

#include <algorithm>
#include <cstddef>
#include <numeric>
#include <utility>

namespace valveladder {

namespace {

using namespace notes;

/// Where a note is on its pitch, without its edges.
SoundSpan settledSpan(const PhraseSound& sound, const Tone& tone) {
    const double unsettled = sound.lengthOf(tone::unsettledSeconds);
    const double length = tone.offset - tone.onset;
    const double atOnset = tone.changeover.value_or(0.0) / 2.0 + unsettled;
    return {tone.onset + std::min(atOnset, mostUnsettledAtOnset * length),
            tone.offset - std::min(unsettled, mostUnsettledAtEnd * length)};
}

double pitchOf(const PhraseSound& sound, const Tone& tone, const SoundSpan& settled) {
    // Of a part of a swing the median lies anywhere.
    if (tone.swing > tone::leastSwing)
        return tone.midi;
    return midiOf(sound.rate / settledPeriod(sound, settled.from, settled.to, tone.period));
}

HeardNote noteOf(const PhraseSound& sound, const Tone& tone) {
    const SoundSpan settled = settledSpan(sound, tone);
    const double length = settled.to - settled.from;
    HeardNote note;
    note.onset = sound.timeOf(tone.onset);
    note.onsetNoise = sound.seconds(tone.noise);
    note.offset = sound.timeOf(std::max(tone.onset, tone.offset));
    note.midi = pitchOf(sound, tone, settled);
    note.level = sound.envelope.rms(std::midpoint(settled.from, settled.to), std::max(1.0, length));
    note.periodicity = tone.periodicity;
    note.start = tone.start;
    if (tone.changeover)
        note.changeoverMs = msPerSecond * sound.seconds(*tone.changeover);
    note.settledSeconds = sound.seconds(std::max(0.0, length));
    return note;
}

/// How well a piece repeats with a period, -1..1; -1 where it is too short to tell.
double correlationOf(const PhraseSound& sound, const Tone& piece, double period) {
    const double window = piece.offset - piece.onset - period;
    if (window < leastPieceShare * period)
        return -1.0;
    return cycleCorrelation(sound.samples, piece.offset - 0.5 * window, period, window);
}

/// Of two notes taken for one tone the short one may lie a semitone or two beside its pitch.
double periodOfPiece(const PhraseSound& sound, const Tone& piece) {
    double period = piece.period;
    double best = correlationOf(sound, piece, period) + pieceMargin;
    for (const double semitones : neighbours) {
        const double other = piece.period * frequencyRatio(semitones);
        if (const double alike = correlationOf(sound, piece, other); alike > best) {
            best = alike;
            period = other;
        }
    }
    return period;
}

std::vector<Rearticulation> rearticulationsIn(const PhraseSound& sound, const Tone& tone,
                                              const SoundSpan& steady) {
    auto articulations = findRearticulations(sound.samples, sound.envelope, steady.from, steady.to,
                                             tone.period, sound.lengthOf(attack::leastArticulationSeconds),
                                             tone.swing * periodSharePerSemitone);
    std::erase_if(articulations, [&](const Rearticulation& articulation) {
        return tone.start == HeardNote::Start::attack &&
               speaksStill(sound.seconds(articulation.dip - tone.onset), articulation.dipDb,
                           articulation.swell);
    });
    return articulations;
}

/// What a tone sounds from an articulation on.
Tone rearticulated(const Tone& tone, const Rearticulation& articulation) {
    Tone piece = tone;
    piece.onset = articulation.place;
    piece.start = HeardNote::Start::rearticulated;
    piece.changeover.reset();
    piece.noise = 0.0;
    return piece;
}

/// `start`: of the tone's shape, samples into the phrase's sound.
HeardNote::Again againOf(const PhraseSound& sound, const Tone& tone, const Rearticulation& articulation,
                         double start) {
    HeardNote::Again again;
    again.weight = articulation.weight;
    again.sameness = articulation.sameness;
    again.commonDipDb = commonDipDb(sound, articulation.dip, tone.period);
    again.since = sound.seconds(articulation.dip - start);
    return again;
}

/// The note that a piece of a tone is, which ends at `end`.
HeardNote noteOfPiece(const PhraseSound& sound, Tone piece, double end) {
    piece.offset = end;
    piece.period = periodOfPiece(sound, piece);
    return noteOf(sound, piece);
}

} // namespace

std::vector<HeardNote> notesOf(const PhraseSound& sound, const Tone& tone, double changeoverAfter) {
    const SoundSpan steady = steadySpan(sound, tone, changeoverAfter);
    const std::vector<Rearticulation> articulations = rearticulationsIn(sound, tone, steady);
    std::vector<HeardNote> found;
    found.push_back(articulations.empty() ? noteOf(sound, tone)
                                          : noteOfPiece(sound, tone, articulations.front().gapFrom));
    found.front().shape = shapeOf(sound, tone, steady);
    for (std::size_t i = 0; i < articulations.size(); ++i) {
        const double end = i + 1 < articulations.size() ? articulations[i + 1].gapFrom : tone.offset;
        found.push_back(noteOfPiece(sound, rearticulated(tone, articulations[i]), end));
        found.back().again = againOf(sound, tone, articulations[i], shapeStart(tone, steady));
    }
    return found;
}

} // namespace valveladder
