#include "Words/PlanWords.h"

#include "Base/Sentence.h"
#include "Words/TempoWords.h"

#include <fmt/format.h>

namespace valveladder {

namespace {

/// "66", "70 (66 was planned)".
std::string playedText(const PlanStep& step) {
    std::string text = words::tempoText(step.playedBpm);
    if (step.overPlanBpm)
        text += fmt::format(" ({} was planned)", words::tempoText(*step.overPlanBpm));
    return text;
}

std::string range(double low, double high) {
    return words::sameTempo(low, high) ? words::tempoText(low)
                                       : words::tempoText(low) + " to " + words::tempoText(high);
}

/// With the figures by name; {next} is how a take that does not count is followed.
const char* sentenceOf(PlanStep::Cause cause) {
    using enum PlanStep::Cause;
    switch (cause) {
    case start:
        return "Start at {bpm}.";
    case newDayUp:
        return "New day after a passed take: {bpm} today, up from {dayBefore}.";
    case newDayAtCeiling:
        return "New day at the ceiling: stay at {bpm}.";
    case newDayAgain:
        return "New day: start at {bpm} again.";
    case newDayWithoutPass:
        return "New day, no passed take on the last one: start at {bpm}.";
    case cutShort:
        return "The last take was cut short and does not count: {next} {bpm}.";
    case notMeasured:
        return "Nothing could be measured in the last take, and it does not count: {next} {bpm}.";
    case tempoUnknown:
        return "The last take has no known tempo and does not count: {next} {bpm}.";
    case slowerThanPlanned:
        return "The last take was slower than planned and does not count: {next} {bpm}.";
    case passedAtCeiling:
        return "Passed at {played}: stay at {bpm}, the ceiling.";
    case passedUp:
        return "Passed at {played}: next take at {bpm}.";
    case passedInRow:
        return "Passed at {played}, {inRow} of {inRowWanted} in a row: next take at {bpm}.";
    case passed:
        return "Passed at {played}: stay at {bpm} for today.";
    case failedInRow:
        return "Not passed at {played}, {inRow} of {inRowWanted} before stepping back: once more at {bpm}.";
    case failedBack:
        return "Not passed at {played}: back to {bpm}.";
    case failedAtStart:
        return "Not passed at {played}: stay at {bpm}, or set a lower start.";
    case failed:
        return "Not passed at {played}: stay at {bpm}.";
    }
    return "";
}

} // namespace

std::string inWords(const PlannedTempo& planned) {
    const PlanStep& step = planned.step;
    return fmt::format(fmt::runtime(sentenceOf(step.cause)), fmt::arg("bpm", words::tempoText(planned.bpm)),
                       fmt::arg("played", playedText(step)),
                       fmt::arg("dayBefore", words::tempoText(step.dayBeforeBpm)),
                       fmt::arg("inRow", step.inRow), fmt::arg("inRowWanted", step.inRowWanted),
                       fmt::arg("next", planned.reason == PlanReason::start ? "start at" : "next take at"));
}

std::string inWords(const PlanDay& day) {
    std::string text =
        fmt::format("{}, {}: {}, {} passed; planned {} bpm, played {} bpm", dayName(day.day), day.drillName,
                    counted(day.takes, "take"), day.passed, range(day.plannedLow, day.plannedHigh),
                    range(day.playedLow, day.playedHigh));
    if (day.offPlan > 0)
        text += fmt::format("; {} slower than planned", day.offPlan);
    return text +
           (day.heldBpm ? fmt::format("; {} bpm held", words::tempoText(*day.heldBpm)) : "; no tempo held");
}

std::string inWords(const PlanReality& reality) {
    if (reality.days.empty())
        return "";
    std::string text =
        fmt::format("practised on {} of {} days",
                    reality.daysInRange - static_cast<int>(reality.missedDays.size()), reality.daysInRange);
    if (reality.heldBpm)
        text += fmt::format(", fastest tempo held {} bpm", words::tempoText(*reality.heldBpm));
    return text;
}

} // namespace valveladder
