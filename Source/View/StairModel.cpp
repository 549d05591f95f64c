#include "View/StairModel.h"

#include "View/Words.h"
#include "Words/FindingWords.h"
#include "Words/PlanWords.h"
#include "Words/SuspectWords.h"

#include <algorithm>

namespace valveladder {

namespace {

const Finding* claimFor(const FindingsReport& report, const Suspect& suspect) {
    for (const Finding& finding : report.weaknesses.findings)
        if (finding.claimed && finding.complaint == Complaint::slow && finding.suspect == suspect)
            return &finding;
    return nullptr;
}

WhiskerModel whisker(const Pace& pace, const FindingsReport& report, bool thumb) {
    const Suspect& suspect = pace.suspect;
    WhiskerModel model;
    model.name =
        suspect.kind == SuspectKind::change ? changeName(suspect.change, thumb) : inWords(suspect, thumb);
    model.finger = suspect.kind == SuspectKind::change ? 0 : suspect.finger;
    model.pressing = suspect.kind == SuspectKind::press;
    model.ms = pace.ms;
    if (const Finding* finding = claimFor(report, suspect)) {
        model.claimed = true;
        model.words = inWords(*finding, thumb);
    }
    return model;
}

} // namespace

StairModel stairModel(const Review& review, const Instrument& instrument) {
    const FindingsReport& report = review.findings;
    StairModel model;
    model.days = report.plan.days;
    model.missedDays = report.plan.missedDays;
    model.fingersOnHand = instrument.valves;
    model.thumbValve = instrument.thumbValve;
    model.claims = review.words.claims;
    model.remarks = review.words.remarks;
    model.plan = inWords(report.plan);
    model.takes = review.takes;
    for (const Pace& pace : review.paces) {
        auto& list = pace.suspect.kind == SuspectKind::change ? model.changes : model.fingers;
        list.push_back(whisker(pace, report, instrument.thumbValve));
    }
    std::sort(model.changes.begin(), model.changes.end(),
              [](const WhiskerModel& a, const WhiskerModel& b) { return a.ms.value > b.ms.value; });
    if (model.changes.size() > mostChangesShown)
        model.changes.resize(mostChangesShown);
    return model;
}

} // namespace valveladder
