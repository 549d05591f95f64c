#include "Findings/Care.h"

#include <fmt/format.h>

#include <set>

namespace valveladder {

namespace {

constexpr double msPerMinute = 60000.0;
constexpr const char* noSource = "common practice, no source";

bool restIsDue(const CareSettings& settings, const CareMoment& moment) {
    return settings.restReminder && moment.minutesPlayed >= settings.restAfterMinutes &&
           moment.minutesSinceReminder >= settings.restMinutes;
}

} // namespace

CareText careText(CareKind kind, const CareSettings& settings) {
    switch (kind) {
    case CareKind::handCheck:
        return {kind,
                "Hand check: fingers curved, tips on the caps of the valves, wrist straight, thumb loose, "
                "little finger not pulling in its hook, shoulder low. Press straight down.",
                noSource};
    case CareKind::rest:
        return {
            kind,
            fmt::format("{:.0f} minutes played: put the instrument down for {:.0f} minutes. Lips and hand "
                        "need it more than the drill does.",
                        settings.restAfterMinutes, settings.restMinutes),
            "five minutes of rest in each half hour: Musician Health and Safety, Mississippi Valley State "
            "University"};
    case CareKind::firmValves:
        return {kind,
                "Firm means quick and all the way, not hard. Stop if it hurts, in the hand, the wrist or the "
                "lips; what does not pass with rest belongs in a clinician's hands.",
                "stop at discomfort, see a clinician if it persists: G. Klickstein, The Musician's Way blog, "
                "July 2011"};
    case CareKind::hearing:
        break;
    }
    return {CareKind::hearing,
            "Brass is loud in small rooms; no sound level is measured here. Rest the ears, follow local "
            "rules and hearing care.",
            "NIOSH 2015-184; Directive 2003/10/EC"};
}

std::vector<CareText> careNow(const CareSettings& settings, const CareMoment& moment) {
    std::vector<CareText> texts;
    if (moment.takeRuns)
        return texts;
    const bool askHand = moment.firstUse || moment.slowFingers >= settings.severalFingers;
    if (settings.handCheck && askHand)
        texts.push_back(careText(CareKind::handCheck, settings));
    if (restIsDue(settings, moment))
        texts.push_back(careText(CareKind::rest, settings));
    if (settings.firmValves && moment.firmSegmentNext && !moment.firmWasShown)
        texts.push_back(careText(CareKind::firmValves, settings));
    if (settings.hearing && !moment.hearingWasShown)
        texts.push_back(careText(CareKind::hearing, settings));
    return texts;
}

int slowFingers(const Weaknesses& weaknesses) {
    std::set<int> fingers;
    for (const auto& finding : weaknesses.findings) {
        if (!finding.claimed || finding.complaint != Complaint::slow)
            continue;
        const auto kind = finding.suspect.kind;
        if (kind == SuspectKind::press || kind == SuspectKind::release || kind == SuspectKind::fourthValve)
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
