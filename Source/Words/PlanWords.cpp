#include "Words/PlanWords.h"

#include "Base/Sentence.h"

#include <fmt/format.h>

#include <cmath>

namespace valveladder {

namespace {

std::string bpmText(double bpm) {
    return fmt::format("{:.6g}", std::round(bpm * 100.0) / 100.0);
}

/// "66", "70 (66 was planned)".
std::string playedText(const PlanStep& step) {
    std::string text = bpmText(step.playedBpm);
    if (step.overPlanBpm)
        text += fmt::format(" ({} was planned)", bpmText(*step.overPlanBpm));
    return text;
}

std::string range(double low, double high) {
    return high - low < planToleranceBpm ? fmt::format("{:.4g}", low)
                                         : fmt::format("{:.4g} to {:.4g}", low, high);
}

using Cause = PlanStep::Cause;

std::string newDay(const PlannedTempo& planned) {
    const std::string bpm = bpmText(planned.bpm);
    switch (planned.step.cause) {
    case Cause::newDayUp:
        return fmt::format("New day after a passed take: {} today, up from {}.", bpm,
                           bpmText(planned.step.dayBeforeBpm));
    case Cause::newDayAtCeiling:
        return fmt::format("New day at the ceiling: stay at {}.", bpm);
    case Cause::newDayAgain:
        return fmt::format("New day: start at {} again.", bpm);
    default:
        return fmt::format("New day, no passed take on the last one: start at {}.", bpm);
    }
}

std::string notCounted(const PlannedTempo& planned) {
    const Cause cause = planned.step.cause;
    const char* why = cause == Cause::cutShort       ? "was cut short"
                      : cause == Cause::tempoUnknown ? "has no known tempo"
                                                     : "was slower than planned";
    return fmt::format("The last take {} and does not count: {} {}.", why,
                       planned.reason == PlanReason::start ? "start at" : "next take at",
                       bpmText(planned.bpm));
}

std::string passed(const PlannedTempo& planned) {
    const PlanStep& step = planned.step;
    const std::string bpm = bpmText(planned.bpm);
    const std::string at = playedText(step);
    switch (step.cause) {
    case Cause::passedAtCeiling:
        return fmt::format("Passed at {}: stay at {}, the ceiling.", at, bpm);
    case Cause::passedUp:
        return fmt::format("Passed at {}: next take at {}.", at, bpm);
    case Cause::passedInRow:
        return fmt::format("Passed at {}, {} of {} in a row: next take at {}.", at, step.inRow,
                           step.inRowWanted, bpm);
    default:
        return fmt::format("Passed at {}: stay at {} for today.", at, bpm);
    }
}

std::string notPassed(const PlannedTempo& planned) {
    const PlanStep& step = planned.step;
    const std::string bpm = bpmText(planned.bpm);
    const std::string at = playedText(step);
    switch (step.cause) {
    case Cause::failedInRow:
        return fmt::format("Not passed at {}, {} of {} before stepping back: once more at {}.", at,
                           step.inRow, step.inRowWanted, bpm);
    case Cause::failedBack:
        return fmt::format("Not passed at {}: back to {}.", at, bpm);
    case Cause::failedAtStart:
        return fmt::format("Not passed at {}: stay at {}, or set a lower start.", at, bpm);
    default:
        return fmt::format("Not passed at {}: stay at {}.", at, bpm);
    }
}

} // namespace

std::string inWords(const PlannedTempo& planned) {
    switch (planned.step.cause) {
    case Cause::start:
        return fmt::format("Start at {}.", bpmText(planned.bpm));
    case Cause::newDayUp:
    case Cause::newDayAtCeiling:
    case Cause::newDayAgain:
    case Cause::newDayWithoutPass:
        return newDay(planned);
    case Cause::cutShort:
    case Cause::tempoUnknown:
    case Cause::slowerThanPlanned:
        return notCounted(planned);
    case Cause::passedAtCeiling:
    case Cause::passedUp:
    case Cause::passedInRow:
    case Cause::passed:
        return passed(planned);
    case Cause::failedInRow:
    case Cause::failedBack:
    case Cause::failedAtStart:
    case Cause::failed:
        return notPassed(planned);
    }
    return "";
}

std::string inWords(const PlanDay& day) {
    std::string text =
        fmt::format("{}, {}: {}, {} passed; planned {} bpm, played {} bpm", dayName(day.day), day.drillName,
                    counted(day.takes, "take"), day.passed, range(day.plannedLow, day.plannedHigh),
                    range(day.playedLow, day.playedHigh));
    if (day.offPlan > 0)
        text += fmt::format("; {} off the planned tempo", day.offPlan);
    return text + (day.heldBpm ? fmt::format("; {:.4g} bpm held", *day.heldBpm) : "; no tempo held");
}

std::string inWords(const PlanReality& reality) {
    if (reality.days.empty())
        return "";
    std::string text =
        fmt::format("practised on {} of {} days",
                    reality.daysInRange - static_cast<int>(reality.missedDays.size()), reality.daysInRange);
    if (reality.heldBpm)
        text += fmt::format(", fastest tempo held {:.4g} bpm", *reality.heldBpm);
    return text;
}

} // namespace valveladder
