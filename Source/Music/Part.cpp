#include "Music/Part.h"

#include <algorithm>

namespace valveladder {

namespace {
constexpr double defaultBpm = 120.0; // MusicXML and SMF 1.1 where a file names no tempo
}

double Part::bpmAt(Tick tick) const {
    const PartTempo* tempo = inForce(tempos, tick);
    return tempo ? tempo->bpm : defaultBpm;
}

int Part::fifthsAt(Tick tick) const {
    const PartKey* key = inForce(keys, tick);
    return key ? key->fifths : 0;
}

double Part::secondsAt(Tick tick) const {
    double seconds = 0.0;
    Tick at = 0;
    double bpm = defaultBpm;
    const auto advance = [&](Tick to) {
        seconds += static_cast<double>(to - at) / ticksPerQuarter * 60.0 / bpm;
        at = to;
    };
    for (const PartTempo& tempo : tempos) {
        if (tempo.tick >= tick)
            break;
        advance(std::max(at, tempo.tick));
        bpm = tempo.bpm;
    }
    advance(tick);
    return seconds;
}

std::string writtenName(const PartNote& note) {
    return pitchName(note.written, note.alter.value_or(0) < 0 ? Spelling::flats : Spelling::sharps);
}

} // namespace valveladder
