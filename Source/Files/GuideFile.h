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

/// One pass of the drill with its tempo as format 1: first a track of tempo, meter and markers (count-in, and
/// one for each segment of each rung), then those of guide, click and valve lanes that `settings` asks for.
/// Tick 0 is the score's tick 0; every track ends with the score's length, so the file loops without a gap.
/// What the tracks hold is what guideEvents() yields, so file and live guide are the same; MIDI clock is not
/// written. The tempo is rounded to whole microseconds a quarter, as the format wants it.
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

/// A recorded take read from a file, times in seconds from the score's tick 0, which lies at `startQuarter`
/// of the file. Tracks are merged. Taken are the notes and valve controllers of `channel` (1..16; 0 = any but
/// 10, percussion). A note-on of velocity 0 is a note-off; notes left open end with the longest track. The
/// tempo map is the file's, moved likewise. Refused: format 2, and tempos outside minBpm..maxBpm.
struct RecordedTake {
    MidiTake take;
    TempoMap tempo;
};
[[nodiscard]] Result<RecordedTake> recordedTake(const SmfFile& file, int channel, double startQuarter);

} // namespace valveladder
