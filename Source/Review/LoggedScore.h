#pragma once

#include "Base/Problem.h"
#include "Ladder/Drill.h"
#include "Records/TakeRecord.h"
#include "Score/Score.h"
#include "Valves/Instrument.h"

namespace valveladder {

/// What a logged take was played from.
struct LoggedScore {
    Instrument instrument;
    Drill drill;
    Score score;
};

/// Built anew from what the log keeps, laid out at `bpm` quarters a minute, which moves rests alone; fails
/// where the log's drill or instrument cannot be read.
[[nodiscard]] Result<LoggedScore> loggedScore(const TakeHeader& header, double bpm);

/// The same at the tempo that was played, or planned where none is known.
[[nodiscard]] Result<LoggedScore> loggedScore(const TakeRecord& take);

} // namespace valveladder
