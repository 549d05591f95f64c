#include "Session/CareWatch.h"

#include "Base/Units.h"
#include "Findings/Tiring.h"

namespace valveladder {

void CareWatch::firstUse(const std::string& player) {
    isFirstUse = beginners.insert(player).second || isFirstUse;
}

void CareWatch::takeEnded(UtcMs startedUtc, UtcMs endedUtc) {
    const bool newSitting = !played.empty() && static_cast<double>(startedUtc - played.back().endedUtcMs) >
                                                   tiring::sittingGapMinutes * msPerMinute;
    if (newSitting) {
        played.clear();
        firmShown = hearingShown = false;
    }
    played.push_back({startedUtc, endedUtc});
    isFirstUse = false;
}

void CareWatch::slowFingersNow(int fingers) {
    slow = fingers;
}

std::vector<CareKind> CareWatch::due(const CareSettings& settings, bool takeRuns, bool firmNext, UtcMs now) {
    CareMoment moment;
    moment.takeRuns = takeRuns;
    moment.firstUse = isFirstUse;
    moment.minutesPlayed = minutesWithoutRest(played, now, settings.restMinutes);
    moment.minutesSinceReminder = static_cast<double>(now - lastReminder) / msPerMinute;
    moment.firmSegmentNext = firmNext;
    moment.firmWasShown = firmShown;
    moment.hearingWasShown = hearingShown;
    moment.slowFingers = slow > slowShown ? slow : 0;
    auto cautions = careNow(settings, moment);
    for (const CareKind kind : cautions) {
        if (kind == CareKind::handCheck) {
            isFirstUse = false;
            slowShown = slow;
        }
        firmShown = firmShown || kind == CareKind::firmValves;
        hearingShown = hearingShown || kind == CareKind::hearing;
        if (kind == CareKind::rest)
            lastReminder = now;
    }
    return cautions;
}

} // namespace valveladder
