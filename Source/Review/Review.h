#pragma once

#include "Findings/Care.h"
#include "Findings/Findings.h"
#include "Findings/NextSession.h"
#include "Findings/Pace.h"
#include "Review/Comparison.h"
#include "Review/LogEvidence.h"
#include "Words/CareWords.h"
#include "Words/FindingsInWords.h"

#include <optional>
#include <stop_token>
#include <string>
#include <vector>

namespace valveladder {

/// What is asked of a log.
struct ReviewRequest {
    std::string player;
    std::string instrumentId;
    bool invented = false;      ///< the made-up takes instead of the real ones
    bool inventedAlone = false; ///< the made-up takes also where the player has no real ones
    std::optional<double> bpm;  ///< of the next session; absent: the plan's next tempo of its ladder
    double minutes = SessionRequest::usualMinutes; ///< of the next session, as SessionRequest has it
    std::optional<Drill> ladder;           ///< that the next session is made of; absent: the one played last
    std::optional<TempoRules> ladderRules; ///< of its plan where the log holds none; absent: the usual ones
    std::optional<UtcMs> fromUtc;          ///< takes begun earlier are left out
    std::optional<UtcMs> toUtc;            ///< and those begun then or later
    CareSettings care;
    UtcMs now = 0;
};

/// What the log says of a player on an instrument, ready to be shown. Every sentence is finished words for
/// the player; figures behind them are in `findings`.
struct Review {
    std::string player;
    std::string instrumentId;
    std::string instrumentName;
    bool thumbValve = false;
    TempoRules rules;      ///< of the ladder's plan
    bool invented = false; ///< the takes are made up
    int takes = 0;
    int days = 0; ///< practice days with a take
    std::int64_t firstDay = 0, lastDay = 0;
    int changes = 0; ///< asked for in these takes

    FindingsReport findings;
    FindingsInWords words;               ///< what `findings` say
    std::vector<DatedTake> listed;       ///< every finished take, oldest first
    std::vector<Pace> paces;             ///< what was measured of fingers and changes
    std::vector<std::string> carryOver;  ///< relaxed against firm: all rungs, then each rung
    std::vector<std::string> tiring;     ///< of the hand as a whole, with the minutes played
    std::vector<std::string> planDays;   ///< each practice day in words, oldest first
    std::optional<PracticeSession> next; ///< proposed; see configFor()
    std::optional<Comparison> newestTwo; ///< the newest take of a drill, beside the one before
    std::vector<CareText> care;          ///< to be shown between takes
    std::vector<std::string> remarks;    ///< takes left out, and why
    std::vector<std::string> players;    ///< everybody in the log
    std::vector<LogPlayer> others;       ///< where the player has no take: who has, the newest first
};

/// Reads the log and works everything out: seconds for a log of years, so never from the message thread.
/// Pure: the same log and request give the same review. Stopped, it ends early with a Problem of
/// that kind. A player without takes gets a review that says so.
[[nodiscard]] Result<Review> reviewOf(const LogStore& log, const ReviewRequest& request,
                                      const std::stop_token& stop = {}, ReadingProgress* progress = nullptr);

/// The tempo plan of a session's own drill: the ladder's rules, but starting at the session's tempo, so that
/// takes of it that are played as told are on plan.
[[nodiscard]] TempoRules rulesFor(const PracticeSession& next, TempoRules ladder);

} // namespace valveladder
