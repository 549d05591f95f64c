#include "Tempo/TempoPlan.h"

#include "Tempo/PracticeDay.h"
#include "Tempo/TempoMap.h"

#include <algorithm>
#include <cmath>
#include <compare>
#include <tuple>

namespace valveladder {

namespace {

using Cause = PlanStep::Cause;

double drawnInto(double value, double low, double high, double whenNaN) {
    return std::clamp(std::isnan(value) ? whenNaN : value, low, high);
}

/// The rules with every number the fold uses inside its range.
TempoRules drawnIntoRange(TempoRules rules) {
    const TempoRules usual;
    rules.ceilingBpm = drawnInto(rules.ceilingBpm, minBpm, maxBpm, usual.ceilingBpm);
    rules.startBpm = std::min(rules.ceilingBpm, drawnInto(rules.startBpm, minBpm, maxBpm, usual.startBpm));
    rules.stepPerTake = drawnInto(rules.stepPerTake, 0.0, maxBpm, usual.stepPerTake);
    rules.stepPerDay = drawnInto(rules.stepPerDay, 0.0, maxBpm, usual.stepPerDay);
    rules.stepBack = drawnInto(rules.stepBack, 0.0, maxBpm, usual.stepBack);
    rules.toleranceBpm = drawnInto(rules.toleranceBpm, 0.0, maxBpm, usual.toleranceBpm);
    rules.passesPerStep = std::max(rules.passesPerStep, 1);
    rules.failuresBeforeBack = std::max(rules.failuresBeforeBack, 1);
    return rules;
}

/// The plan's state after some takes.
class Fold {
public:
    explicit Fold(const TempoRules& given)
        : rules(drawnIntoRange(given)), dayStart(rules.startBpm), tempo(rules.startBpm) {}

    void add(const PlanTake& take, std::int64_t takeDay);
    void enterDay(std::int64_t newDay);
    [[nodiscard]] PlannedTempo planned() const { return {tempo, reason, passesInRow, failuresInRow, step}; }

private:
    void passOver(PlanStep::Cause why);
    void pass();
    void fail();

    TempoRules rules;
    double dayStart;
    double tempo;
    std::optional<std::int64_t> day; ///< of the last counted take
    bool dayHadPass = false;
    int passesInRow = 0;
    int failuresInRow = 0;
    PlanReason reason = PlanReason::start;
    PlanStep step;
};

void Fold::enterDay(std::int64_t newDay) {
    if (!day || newDay <= *day)
        return;
    const double before = dayStart;
    if (dayHadPass)
        dayStart = std::min(rules.ceilingBpm, dayStart + rules.stepPerDay);
    tempo = dayStart;
    step = PlanStep{};
    step.dayBeforeBpm = before;
    if (dayStart > before) {
        reason = PlanReason::newDayUp;
        step.cause = Cause::newDayUp;
    } else if (dayHadPass && tempo >= rules.ceilingBpm) {
        reason = PlanReason::ceiling;
        step.cause = Cause::newDayAtCeiling;
    } else {
        reason = PlanReason::newDayHold;
        step.cause = dayHadPass ? Cause::newDayAgain : Cause::newDayWithoutPass;
    }
    day = newDay;
    dayHadPass = false;
    passesInRow = failuresInRow = 0;
}

void Fold::add(const PlanTake& take, std::int64_t takeDay) {
    if (!take.whole)
        return passOver(Cause::cutShort);
    if (!take.measured)
        return passOver(Cause::notMeasured);
    if (!std::isfinite(take.playedBpm))
        return passOver(Cause::tempoUnknown);
    Fold onItsDay = *this;
    onItsDay.enterDay(takeDay);
    if (slowerThanPlanned(take.playedBpm, onItsDay.tempo, rules.toleranceBpm))
        return passOver(Cause::slowerThanPlanned);
    *this = std::move(onItsDay);
    if (!day)
        day = takeDay;
    step = PlanStep{};
    step.playedBpm = take.playedBpm;
    if (fasterThanPlanned(take.playedBpm, tempo, rules.toleranceBpm))
        step.overPlanBpm = tempo;
    take.passed ? pass() : fail();
}

void Fold::passOver(Cause why) {
    if (day)
        reason = PlanReason::hold;
    step = PlanStep{};
    step.cause = why;
}

void Fold::pass() {
    failuresInRow = 0;
    ++passesInRow;
    dayHadPass = true;
    const bool atCeiling = tempo >= rules.ceilingBpm;
    const bool stepDue = rules.stepPerTake > 0.0 && passesInRow >= rules.passesPerStep;
    if (stepDue) {
        tempo = std::min(rules.ceilingBpm, tempo + rules.stepPerTake);
        passesInRow = 0;
    }
    if (atCeiling) {
        reason = PlanReason::ceiling;
        step.cause = Cause::passedAtCeiling;
    } else if (stepDue) {
        reason = PlanReason::steppedUp;
        step.cause = Cause::passedUp;
    } else if (rules.stepPerTake > 0.0) {
        reason = PlanReason::hold;
        step.cause = Cause::passedInRow;
        step.inRow = passesInRow;
        step.inRowWanted = rules.passesPerStep;
    } else {
        reason = PlanReason::hold;
        step.cause = Cause::passed;
    }
}

void Fold::fail() {
    passesInRow = 0;
    ++failuresInRow;
    const bool backDue = failuresInRow >= rules.failuresBeforeBack;
    if (!backDue) {
        reason = PlanReason::hold;
        step.cause = Cause::failedInRow;
        step.inRow = failuresInRow;
        step.inRowWanted = rules.failuresBeforeBack;
        return;
    }
    const double before = tempo;
    tempo = std::max(rules.startBpm, tempo - rules.stepBack);
    dayStart = std::min(dayStart, tempo);
    failuresInRow = 0;
    reason = tempo < before ? PlanReason::steppedBack : PlanReason::hold;
    if (tempo < before)
        step.cause = Cause::failedBack;
    else
        step.cause = tempo <= rules.startBpm ? Cause::failedAtStart : Cause::failed;
}

/// One order for one set of takes, however they came; of two copies of a take the better one is first.
bool comesBefore(const PlanTake& a, const PlanTake& b) {
    const auto betterFirst = [](const PlanTake& t) { return std::tuple(!t.whole, !t.measured, !t.passed); };
    if (const auto order = std::tie(a.startedUtc, a.takeId) <=> std::tie(b.startedUtc, b.takeId); order != 0)
        return order < 0;
    if (betterFirst(a) != betterFirst(b))
        return betterFirst(a) < betterFirst(b);
    if (const auto order = std::strong_order(a.playedBpm, b.playedBpm); order != 0)
        return order > 0;
    return a.timeZone < b.timeZone;
}

bool sameTake(const PlanTake& a, const PlanTake& b) {
    return a.startedUtc == b.startedUtc && a.takeId == b.takeId && !a.takeId.empty();
}

} // namespace

const char* name(PlanReason reason) {
    switch (reason) {
    case PlanReason::start:
        return "start";
    case PlanReason::hold:
        return "hold";
    case PlanReason::steppedUp:
        return "stepped-up";
    case PlanReason::steppedBack:
        return "stepped-back";
    case PlanReason::newDayUp:
        return "new-day-up";
    case PlanReason::newDayHold:
        return "new-day-hold";
    case PlanReason::ceiling:
        return "ceiling";
    }
    return "";
}

struct RunningPlan::Impl {
    explicit Impl(const TempoRules& given) : rules(given), calendar(given), fold(given) {}

    void append(const PlanTake& take) {
        takes.push_back(take);
        fold.add(take, dayOf(take));
    }
    /// Puts it where it belongs and begins anew; false when the copy that is there is no worse.
    bool insert(const PlanTake& take) {
        auto place = std::lower_bound(takes.begin(), takes.end(), take, comesBefore);
        if (place != takes.begin() && sameTake(*(place - 1), take))
            return false;
        if (place != takes.end() && sameTake(*place, take)) {
            if (!comesBefore(take, *place))
                return false;
            *place = take;
        } else {
            takes.insert(place, take);
        }
        return true;
    }
    void foldAll() {
        fold = Fold(rules);
        for (const PlanTake& take : takes)
            fold.add(take, dayOf(take));
    }
    [[nodiscard]] std::int64_t dayOf(const PlanTake& take) const {
        return calendar.dayOfTake(take.startedUtc, take.timeZone);
    }

    TempoRules rules;
    PracticeCalendar calendar;
    Fold fold;                   ///< over all takes
    std::vector<PlanTake> takes; ///< in order, each once
};

RunningPlan::RunningPlan(const TempoRules& rules) : impl(std::make_unique<Impl>(rules)) {}
RunningPlan::RunningPlan(RunningPlan&&) noexcept = default;
RunningPlan& RunningPlan::operator=(RunningPlan&&) noexcept = default;
RunningPlan::~RunningPlan() = default;

void RunningPlan::add(const PlanTake& take) {
    const auto& takes = impl->takes;
    if (takes.empty() || (comesBefore(takes.back(), take) && !sameTake(takes.back(), take)))
        return impl->append(take);
    if (impl->insert(take))
        impl->foldAll();
}

PlannedTempo RunningPlan::next(UtcMs now) const {
    Fold fold = impl->fold;
    fold.enterDay(impl->calendar.day(now));
    return fold.planned();
}

std::optional<std::int64_t> RunningPlan::newestDay() const {
    return impl->takes.empty() ? std::nullopt : std::optional(impl->dayOf(impl->takes.back()));
}

PlannedTempo nextTempo(const TempoRules& rules, std::vector<PlanTake> takes, UtcMs now) {
    std::sort(takes.begin(), takes.end(), comesBefore);
    RunningPlan plan(rules);
    for (const PlanTake& take : takes)
        plan.add(take);
    return plan.next(now);
}

} // namespace valveladder
