#include "Screen/StairModel.h"

#include "Findings/Words.h"
#include "Listening/Estimates.h"

#include <algorithm>
#include <map>

namespace valveladder {

namespace {

/// A median of so many values is sharp enough; older ones tell of an earlier player.
constexpr std::size_t mostValues = 600;

std::optional<Estimate> newestMedian(const std::vector<double>& all) {
    const std::size_t from = all.size() > mostValues ? all.size() - mostValues : 0;
    return medianEstimate({all.begin() + static_cast<std::ptrdiff_t>(from), all.end()});
}

const Finding* claimFor(const FindingsReport& report, const Suspect& suspect) {
    for (const Finding& finding : report.weaknesses.findings)
        if (finding.claimed && finding.complaint == Complaint::slow && finding.suspect == suspect)
            return &finding;
    return nullptr;
}

WhiskerModel whisker(const Suspect& suspect, const Estimate& ms, const FindingsReport& report, bool thumb) {
    WhiskerModel model;
    model.name = suspect.kind == SuspectKind::change ? combinationName(suspect.change.from, thumb) + " to " +
                                                           combinationName(suspect.change.to, thumb)
                                                     : suspect.name(thumb);
    model.finger = suspect.kind == SuspectKind::change ? 0 : suspect.finger;
    model.pressing = suspect.kind == SuspectKind::press;
    model.ms = ms;
    if (const Finding* finding = claimFor(report, suspect)) {
        model.claimed = true;
        model.words = inWords(*finding, thumb);
    }
    return model;
}

using Values = std::map<Suspect, std::vector<double>>;

Values measured(std::span<const TakeEvidence> takes) {
    Values values;
    for (const TakeEvidence& take : takes)
        for (const ChangeEvidence& change : take.changes) {
            if (!change.changeoverMs || change.change.fingersMoved() == 0)
                continue;
            const auto ms = static_cast<double>(*change.changeoverMs);
            values[{SuspectKind::change, 0, change.change, {}, {}}].push_back(ms);
            for (int finger = 1; finger <= maxValves; ++finger) {
                if (change.change.pressed().has(finger))
                    values[{SuspectKind::press, finger, {}, {}, {}}].push_back(ms);
                if (change.change.released().has(finger))
                    values[{SuspectKind::release, finger, {}, {}, {}}].push_back(ms);
            }
        }
    return values;
}

} // namespace

StairModel stairModel(std::span<const TakeEvidence> takes, const FindingsReport& report,
                      const Instrument& instrument) {
    StairModel model;
    model.days = report.plan.days;
    model.missedDays = report.plan.missedDays;
    model.fingersOnHand = instrument.valves;
    model.thumbValve = instrument.thumbValve;
    model.claims = report.claims;
    model.remarks = report.remarks;
    model.plan = report.plan.words;
    model.takes = static_cast<int>(takes.size());
    for (const auto& [suspect, values] : measured(takes)) {
        const auto ms = newestMedian(values);
        if (!ms)
            continue;
        auto& list = suspect.kind == SuspectKind::change ? model.changes : model.fingers;
        list.push_back(whisker(suspect, *ms, report, instrument.thumbValve));
    }
    std::sort(model.changes.begin(), model.changes.end(),
              [](const WhiskerModel& a, const WhiskerModel& b) { return a.ms.value > b.ms.value; });
    if (model.changes.size() > mostChangesShown)
        model.changes.resize(mostChangesShown);
    return model;
}

} // namespace valveladder
