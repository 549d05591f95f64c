#pragma once

#include "Listening/MidiListener.h"

namespace valveladder {

/// A combination that holds this long is settled: the same time as for a settled pitch.
inline constexpr double sensorSettleSeconds = 0.02;

/// A change further than this from its note's onset is no part of playing it. Common practice, no source: far
/// above any changeover meant as one.
inline constexpr double sensorReachSeconds = 0.25;

/// Fills what valve sensors say: NoteResult::valvesWrong, and of each change changeoverMs, fingerMs,
/// lateFingers, lateByMs and fromSensors. `moves` are in score seconds, in any order; those of other valves
/// than 1..4 are ignored. A valve that never sent anything is not judged. Preconditions: notes carry outcome
/// and onset, and performance.changes holds the changes to fill.
///
/// A movement belongs to the change whose note's onset is nearest. A change is measured only when its
/// movements lead from the combination asked for to the one asked for; changeoverMs needs two movements at
/// least, since a single crossing has no extent.
void measureValves(Performance& performance, const Score& score, const TempoMap& tempo,
                   std::vector<ValveMove> moves);

} // namespace valveladder
