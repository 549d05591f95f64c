#pragma once

#include "Console/Tool.h"
#include "Log/LogStore.h"
#include "Records/TakeRecord.h"
#include "Score/Score.h"
#include "Valves/Instrument.h"

#include <optional>
#include <string>

namespace valveladder::console {

/// What a take was played from, for naming its notes.
struct TakeScore {
    Instrument instrument;
    Score score;
};

/// Built again from what the log keeps; nothing when that cannot be read.
[[nodiscard]] std::optional<TakeScore> scoreOf(const TakeRecord& take);

/// The beginning of an id, as much as tells takes apart.
[[nodiscard]] std::string shortId(const std::string& id);
/// What a take is called to a person: "take 12", by its number in the log, which every command takes; by the
/// beginning of its id where it is not in the log.
[[nodiscard]] Result<std::string> takeName(const LogStore& log, const TakeHeader& take);

/// The take for a person, within 80 columns: `called` so, what was right and even in each segment, then what
/// was not right, `mistakes` of it at most, each with the number of its note, then what the player says was.
/// Figures carry their 90 % interval; a dash means that it could not be measured. `heard`: the take's
/// performance before its corrections.
void printTake(Tool& tool, const std::string& called, const TakeRecord& take, const Performance& heard,
               const std::optional<TakeScore>& from, int mistakes);

/// " (invented)", or nothing, behind what is said of a take or of several.
[[nodiscard]] const char* inventedNote(bool invented);

/// "passed", "not passed", "kept, not measured", "cut short".
[[nodiscard]] const char* verdict(const TakeSummary& take);
[[nodiscard]] const char* verdict(const TakeRecord& take);

} // namespace valveladder::console
