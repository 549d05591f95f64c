#include "Findings/Care.h"

#include "Base/Units.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace valveladder {

namespace {

bool within(double minutes, double most) {
    return minutes >= CareSettings::leastMinutes && minutes <= most;
}

bool restIsDue(const CareSettings& settings, const CareMoment& moment) {
    return settings.restReminder && moment.minutesPlayed >= settings.restAfterMinutes &&
           moment.minutesSinceReminder >= settings.restMinutes;
}

} // namespace

Result<CareSettings> checked(CareSettings settings) {
    if (within(settings.restAfterMinutes, CareSettings::mostPlayedMinutes) &&
        within(settings.restMinutes, CareSettings::mostRestMinutes))
        return settings;
    return Problem{
        fmt::format("the rest reminder needs {0:g} to {1:g} minutes of playing and {0:g} to {2:g} of rest",
                    CareSettings::leastMinutes, CareSettings::mostPlayedMinutes,
                    CareSettings::mostRestMinutes),
        "care",
        fmt::format("{:g} and {:g} are usual", CareSettings{}.restAfterMinutes, CareSettings{}.restMinutes)};
}

bool asksForFirmValves(const Drill& drill) {
    return std::ranges::any_of(drill.segments,
                               [](const Segment& segment) { return segment.touch == Touch::firm; });
}

std::vector<CareKind> careNow(const CareSettings& settings, const CareMoment& moment) {
    std::vector<CareKind> due;
    if (moment.takeRuns)
        return due;
    const bool askHand = moment.firstUse || moment.slowFingers >= settings.severalFingers;
    if (settings.handCheck && askHand)
        due.push_back(CareKind::handCheck);
    if (restIsDue(settings, moment))
        due.push_back(CareKind::rest);
    if (settings.firmValves && moment.firmSegmentNext && !moment.firmWasShown)
        due.push_back(CareKind::firmValves);
    if (settings.hearing && !moment.hearingWasShown)
        due.push_back(CareKind::hearing);
    return due;
}

int slowFingers(const Weaknesses& weaknesses) {
    std::set<int> fingers;
    for (const auto& finding : weaknesses.findings) {
        if (!finding.claimed || finding.complaint != Complaint::slow)
            continue;
        if (finding.suspect.isFinger() || finding.suspect.kind == SuspectKind::fourthValve)
            fingers.insert(finding.suspect.finger);
    }
    return static_cast<int>(fingers.size());
}

double minutesWithoutRest(std::span<const PlayedSpan> played, std::int64_t nowUtcMs, double restMinutes) {
    double minutes = 0.0;
    std::int64_t lastEnd = 0;
    for (const auto& span : played) {
        if (static_cast<double>(span.startedUtcMs - lastEnd) / msPerMinute >= restMinutes)
            minutes = 0.0;
        minutes += static_cast<double>(span.endedUtcMs - span.startedUtcMs) / msPerMinute;
        lastEnd = span.endedUtcMs;
    }
    const bool restsNow = static_cast<double>(nowUtcMs - lastEnd) / msPerMinute >= restMinutes;
    return restsNow ? 0.0 : minutes;
}

double minutesWithoutRest(std::span<const TakeEvidence> takes, std::int64_t nowUtcMs, double restMinutes) {
    std::vector<PlayedSpan> played;
    for (const auto& take : takes)
        played.push_back({take.facts.startedUtcMs, take.facts.endedUtcMs});
    return minutesWithoutRest(std::span<const PlayedSpan>(played), nowUtcMs, restMinutes);
}

} // namespace valveladder
