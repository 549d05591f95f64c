#include "Music/Part.h"

#include "Tempo/TempoMap.h"

namespace valveladder {

double Part::bpmAt(Tick tick) const {
    const PartTempo* tempo = inForce(tempos, tick);
    return tempo ? tempo->bpm : defaultBpm;
}

int Part::fifthsAt(Tick tick) const {
    const PartKey* key = inForce(keys, tick);
    return key ? key->fifths : 0;
}

std::string writtenName(const PartNote& note) {
    return pitchName(note.written, note.alter.value_or(0) < 0 ? Spelling::flats : Spelling::sharps);
}

} // namespace valveladder
