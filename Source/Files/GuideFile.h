#pragma once

#include "Base/Problem.h"
#include "Files/Smf.h"
#include "Guide/Guide.h"
#include "Listening/MidiListener.h"
#include "Score/Score.h"
#include "Tempo/TempoMap.h"

#include <span>
#include <string>
#include <vector>

namespace valveladder {

/// Ticks per quarter in written files: 960 where that keeps every event of the scores exact, else 5040.
[[nodiscard]] int smfTicksPerQuarter(std::span<const Score* const> scores);

/// One pass of the drill with its tempo: track 1 tempo, meter and markers (rungs, segments); 2 guide; 3
/// click; 4 valve lanes. Parts follow `settings`.
[[nodiscard]] SmfFile guideFile(const Score& score, double bpm, const GuideSettings& settings,
                                const std::string& title);

/// A planned pass of a stepped session.
struct SessionTake {
    const Score* score = nullptr;
    double bpm = 60.0;
};

/// Takes laid end to end at stepped tempos, with markers for takes, rungs and segments: for the host's tempo
/// track (tempo map only when `tempoOnly`).
[[nodiscard]] SmfFile sessionFile(std::span<const SessionTake> takes, const GuideSettings& settings,
                                  const std::string& title, bool tempoOnly);

/// A recorded take read from a file: notes of `channel` (0 = any but 10), valve controllers, and the file's
/// tempo map moved so that `startQuarter` is the score's tick 0.
struct RecordedTake {
    MidiTake take;
    TempoMap tempo;
};
[[nodiscard]] Result<RecordedTake> recordedTake(const SmfFile& file, int channel, double startQuarter);

} // namespace valveladder
