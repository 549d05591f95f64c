#pragma once

#include "Base/Problem.h"
#include "Findings/Evidence.h"
#include "Log/LogStore.h"

#include <atomic>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

namespace valveladder {

/// One player on one instrument, real and invented takes apart.
struct LogPlayer {
    int takes = 0;     ///< finished
    TakeHeader newest; ///< of the newest of them: who, on what, and whether invented, as of all of them
};

/// Everybody whose finished takes the log holds, by name, instrument, real before invented.
[[nodiscard]] Result<std::vector<LogPlayer>> playersIn(const LogStore& log, const TakeFilter& filter = {});

/// A take of the log with the practice day that it belongs to (days since 1970-01-01).
struct DatedTake {
    TakeSummary take;
    std::int64_t day = 0;
};

/// How far a reading of the log has come. Any thread.
struct ReadingProgress {
    std::atomic<int> read{0}; ///< takes
    std::atomic<int> all{0};  ///< takes there are to read; 0 = not known yet
};

/// What the log knows of one player on one instrument, ready for findings.
struct LoggedEvidence {
    std::vector<TakeEvidence> takes;      ///< oldest first
    std::vector<DatedTake> listed;        ///< every finished take, those without notes as well; oldest first
    std::optional<Instrument> instrument; ///< as it was in the newest take that can be read
    std::optional<Drill> drill;           ///< of the newest take that can be read
    std::optional<Drill> ladder;          ///< of the newest take of a ladder
    int unreadable = 0;                   ///< takes whose instrument or drill cannot be read: left out
    bool stopped = false;                 ///< reading was stopped: what is here is not all
};

/// Reads the takes that `filter` wants, which should name one player and one instrument. Practice days are
/// as the plan counts them: PracticeCalendar::dayOfTake() by the rules that the log keeps for each drill.
/// Time grows linearly with notes; about a hundred bytes are kept for each change.
[[nodiscard]] Result<LoggedEvidence> readEvidence(const LogStore& log, const TakeFilter& filter,
                                                  const std::stop_token& stop = {},
                                                  ReadingProgress* progress = nullptr);

/// Finished takes begun on a practice day (days since 1970-01-01), by the rules that the log keeps for each
/// drill; oldest first.
[[nodiscard]] Result<std::vector<TakeSummary>> takesOfDay(const LogStore& log, const TakeFilter& filter,
                                                          std::int64_t day);

} // namespace valveladder
