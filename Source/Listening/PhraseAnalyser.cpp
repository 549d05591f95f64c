#include "Listening/PhraseAnalyser.h"

#include "Listening/JoinedTones.h"
#include "Listening/NoteEdges.h"
#include "Listening/PassingNotes.h"
#include "Listening/PhraseSound.h"
#include "Listening/SlowChange.h"
#include "Listening/Tone.h"
#include "Listening/ToneNotes.h"

#include <algorithm>
#include <cstddef>
#include <iterator>
#include <span>

namespace valveladder {

namespace {

/// The tones that are left when none is meant that is short and on the way from the one before to the one
/// after.
std::vector<Tone> withoutPassing(const PhraseSound& sound, std::vector<Tone> tones,
                                 std::span<const SlowChange> slow) {
    std::erase_if(tones, [&](const Tone& tone) { return isHalfWay(slow, tone.number); });
    dropPassedThrough(sound, tones);
    joinScoops(sound, tones);
    return tones;
}

/// Every tone as notes, the passing ones too: only the score can tell whether they were meant.
std::vector<HeardNote> markedNotes(const PhraseSound& sound, std::span<const Tone> tones,
                                   std::span<const Tone> settled, std::span<const SlowChange> slow) {
    std::vector<HeardNote> notes;
    for (std::size_t i = 0; i < tones.size(); ++i) {
        const double changeoverAfter = i + 1 < tones.size() ? tones[i + 1].changeover.value_or(0.0) : 0.0;
        std::vector<HeardNote> fresh = notesOf(sound, tones[i], changeoverAfter);
        markPassing(sound, settled, i, fresh);
        markSlow(slow, i, fresh);
        std::ranges::move(fresh, std::back_inserter(notes));
    }
    return notes;
}

} // namespace

std::vector<HeardNote> analysePhrase(const Phrase& phrase, const SampleRing& ring, double rate,
                                     const HalfDoneChanges& stops) {
    const auto sound = soundOf(phrase, ring, rate);
    if (!sound)
        return {};
    std::vector<Tone> tones = roughTones(*sound, phrase);
    if (tones.empty())
        return {};
    const std::vector<SlowChange> slow = slowChanges(*sound, tones, stops);
    leaveOutOfSteady(slow, tones);
    std::vector<Tone> settled = withoutPassing(*sound, tones, slow);
    findEdges(*sound, tones);
    if (settled.size() < tones.size())
        findEdges(*sound, settled);
    return markedNotes(*sound, tones, settled, slow);
}

} // namespace valveladder
