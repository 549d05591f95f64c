#pragma once

#include "Base/Problem.h"

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace valveladder {

/// Milliseconds since 1970-01-01 UTC.
using UtcMs = std::int64_t;

/// What counts as a passed take. A take is passed when it is whole and stays inside every limit. Checked
/// range of the counts: 0..DrillLimits::maxNotes, of the spread: 0..TempoLimits::maxSpreadPercent.
struct PassRule {
    int maxWrong = 0;
    int maxMissed = 0;
    int maxExtra = 0;
    double maxIoiSpreadPercent =
        15.0; ///< of the inter-onset interval, spread of the residuals; 0 = not judged
    bool operator==(const PassRule&) const = default;
};

/// Judges a take. `worstIoiSpreadPercent` absent means that no segment could be measured (a drill without
/// even segments): then the notes alone decide. NaN does not pass.
[[nodiscard]] bool passes(const PassRule& rule, bool whole, int wrong, int missed, int extra,
                          std::optional<double> worstIoiSpreadPercent);

/// Limits within which rules are accepted; tempos lie in minBpm..maxBpm.
struct TempoLimits {
    static constexpr double maxStep = 3.0;       ///< bpm, after a take or on a new day
    static constexpr int maxInRow = 10;          ///< takes in a row, from 1
    static constexpr double maxStepBack = 10.0;  ///< bpm
    static constexpr double maxTolerance = 20.0; ///< bpm
    static constexpr int latestDayStart = 12;    ///< local hour
    static constexpr double maxSpreadPercent = 100.0;
};

/// How the tempo rises. One step a day of 1-3 bpm is common practice, no source.
struct TempoRules {
    double startBpm = 60.0;     ///< where it is very comfortable
    double stepPerTake = 0.0;   ///< 0..TempoLimits::maxStep, after each passed take (see passesPerStep)
    double stepPerDay = 2.0;    ///< as stepPerTake, when the last practised day had a passed take
    int passesPerStep = 1;      ///< hold: passed takes in a row before stepPerTake is added, 1..maxInRow
    int failuresBeforeBack = 2; ///< failed takes in a row before stepping back, 1..maxInRow
    double stepBack = 2.0;      ///< bpm, 0..maxStepBack
    double ceilingBpm = 132.0;  ///< startBpm..maxBpm
    double toleranceBpm = 0.5;  ///< 0..maxTolerance; a take further below the plan neither passes nor fails
    std::string timeZone = ""; ///< IANA name that defines the player's days; "" = of a take the zone where it
                               ///< was played, of any other moment this machine's
    int dayStartsAtHour = 0;   ///< local hour at which a practice day begins, 0..latestDayStart
    PassRule pass;
    bool operator==(const TempoRules&) const = default;
};

/// Slower than the plan tolerates: such a take neither passes nor fails.
[[nodiscard]] inline bool slowerThanPlanned(double playedBpm, double plannedBpm, double toleranceBpm) {
    return playedBpm < plannedBpm - toleranceBpm;
}

/// Faster than the plan tolerates: such a take counts, and the plan says so.
[[nodiscard]] inline bool fasterThanPlanned(double playedBpm, double plannedBpm, double toleranceBpm) {
    return playedBpm > plannedBpm + toleranceBpm;
}

/// Further from the plan, either way, than it tolerates.
[[nodiscard]] inline bool otherThanPlanned(double playedBpm, double plannedBpm, double toleranceBpm) {
    return slowerThanPlanned(playedBpm, plannedBpm, toleranceBpm) ||
           fasterThanPlanned(playedBpm, plannedBpm, toleranceBpm);
}

/// One finished take as the plan needs it. All of it comes from the log.
struct PlanTake {
    UtcMs startedUtc = 0;
    std::string takeId; ///< breaks ties of startedUtc, so that two machines with the same log agree
    double playedBpm = 0.0;
    bool whole = true;
    bool passed = false;
    bool measured =
        true; ///< false: kept, but nothing in it could be measured, so it neither passes nor fails
    std::string timeZone = ""; ///< IANA name where it was played: its day, where the rules name no zone
};

enum class PlanReason {
    start,       ///< no take has counted yet
    hold,        ///< the same tempo again
    steppedUp,   ///< by a passed take
    steppedBack, ///< by failed takes in a row
    newDayUp,    ///< the last practised day had a passed take
    newDayHold,  ///< it had none; the day starts where that one did, or where it stepped back to
    ceiling      ///< passed, and there is no higher tempo
};

/// Stable words for programs: "start", "hold", "stepped-up", ...
[[nodiscard]] const char* name(PlanReason reason);

/// What the newest take or day did to the tempo.
struct PlanStep {
    enum class Cause {
        start, ///< no take has counted yet

        newDayUp,          ///< up from `dayBeforeBpm`
        newDayAtCeiling,   ///< there is no higher one
        newDayAgain,       ///< a day with a passed take, and rules that do not rise by day
        newDayWithoutPass, ///< none was passed on the last practised day

        // The newest take does not count.
        cutShort,
        notMeasured,
        tempoUnknown,
        slowerThanPlanned,

        passedAtCeiling,
        passedUp,    ///< the tempo rises
        passedInRow, ///< `inRow` of `inRowWanted` towards a step
        passed,      ///< the same tempo for the rest of the day

        failedInRow,   ///< `inRow` of `inRowWanted` before stepping back
        failedBack,    ///< the tempo falls
        failedAtStart, ///< it would, and is at the first tempo
        failed         ///< it would, by rules that step back by nothing
    };
    Cause cause = Cause::start;
    double dayBeforeBpm = 0.0;         ///< at which the last practised day started
    double playedBpm = 0.0;            ///< of the take that was passed or failed
    std::optional<double> overPlanBpm; ///< what was planned for that take, where it was played faster
    int inRow = 0;
    int inRowWanted = 0;

    bool operator==(const PlanStep&) const = default;
};

struct PlannedTempo {
    double bpm = 60.0;
    PlanReason reason = PlanReason::start;
    int passesInRow = 0;   ///< of the current day, towards the next step
    int failuresInRow = 0; ///< of the current day, towards stepping back
    PlanStep step;         ///< in words: Words/PlanWords.h

    bool operator==(const PlannedTempo&) const = default;
};

/// The next take's tempo: a pure function of the rules, the takes in any order, and the time asked for.
///
/// A fold over the takes sorted by (startedUtc, takeId). The tempo starts at startBpm, or at the ceiling
/// where that is lower.
/// - A take counts when it is whole and was played no further than toleranceBpm below the tempo planned for
///   it. Playing above the plan counts. Other takes change nothing, not even the practised day.
/// - New day: when a counted take's practice day is later than the last counted one's, the counters return to
///   zero and the tempo to the day's start, which is stepPerDay higher when the last practised day had a
///   passed take. Days without a counted take add no step.
/// - Passed: ends a row of failures; passesPerStep of them in a row raise the tempo by stepPerTake (where
///   that is over 0).
/// - Failed: ends a row of passes; failuresBeforeBack of them in a row lower the tempo by stepBack, never
///   below where it started; the next day starts no higher than that plus stepPerDay.
/// - At last the new-day rule is applied to `now`.
///
/// Edges:
/// - Never above ceilingBpm, never outside minBpm..maxBpm. Rules that checked() would refuse are drawn into
///   range: a ceiling below the start holds everything at the ceiling; NaN counts as the default.
/// - Takes later than `now` (a clock set back, another machine's clock ahead) count like all others, and
///   `now` then adds no day. To know what was planned earlier, leave out the later takes.
/// - A take whose day is before the last counted one's (the zone's calendar repeated a day) belongs to the
///   running day.
/// - Equal times: takeId decides; one take given twice (same time and id) counts once, whole before partial,
///   passed before failed.
/// - A tempo played that is not finite does not count.
[[nodiscard]] PlannedTempo nextTempo(const TempoRules& rules, std::vector<PlanTake> takes, UtcMs now);

/// nextTempo() for takes that come one by one: adding a take that began after all others, and asking for the
/// next tempo, cost the same however many there are.
class RunningPlan {
public:
    explicit RunningPlan(const TempoRules& rules);
    RunningPlan(RunningPlan&&) noexcept;
    RunningPlan& operator=(RunningPlan&&) noexcept;
    ~RunningPlan();

    /// In any order; one given twice counts once, as nextTempo() says.
    void add(const PlanTake& take);
    [[nodiscard]] PlannedTempo next(UtcMs now) const;
    /// The practice day of the newest take (PracticeCalendar::dayOfTake()); nothing while there is none.
    [[nodiscard]] std::optional<std::int64_t> newestDay() const;

private:
    struct Impl;
    std::unique_ptr<Impl> impl;
};

/// The rules themselves, or the first that is out of range (or a time zone that this machine does not know).
[[nodiscard]] Result<TempoRules> checked(TempoRules rules);

/// The rules with another first tempo, bpm; a ceiling that lies below it rises to it.
[[nodiscard]] TempoRules withStart(TempoRules rules, double bpm);

/// Days since 1970-01-01 of the practice day that holds `time`, in the rules' zone, or this machine's where
/// they name none (of a take: PracticeCalendar::dayOfTake()): the local calendar day of `time`, less
/// dayStartsAtHour on the wall clock, so that a day lasts 23 or 25 hours where summer time begins or ends.
/// Zones come from the system's IANA time zone database; a zone that this machine does not know counts as UTC
/// (checked() says so beforehand). Times outside the years 1..9999 count as that range's ends.
[[nodiscard]] std::int64_t practiceDay(const TempoRules& rules, UtcMs time);

/// True for "" and for names that this machine's time zone database holds.
[[nodiscard]] bool knownTimeZone(const std::string& name);

/// IANA name of this machine's zone: the environment's TZ where it holds such a name, else the system's
/// setting; "Etc/UTC" when it cannot be told.
[[nodiscard]] std::string localTimeZone();
/// `name`, or for "" this machine's zone.
[[nodiscard]] std::string zoneOrLocal(const std::string& name);
/// The rules with a zone that is named, so that the player's days mean the same on every machine.
[[nodiscard]] TempoRules withZone(TempoRules rules);

} // namespace valveladder
