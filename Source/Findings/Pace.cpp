#include "Findings/Pace.h"

#include "Listening/Estimates.h"

#include <map>
#include <optional>

namespace valveladder {

namespace {

std::optional<Estimate> newestMedian(const std::vector<double>& all) {
    const std::size_t from = all.size() > mostPaceValues ? all.size() - mostPaceValues : 0;
    return medianEstimate({all.begin() + static_cast<std::ptrdiff_t>(from), all.end()});
}

using Values = std::map<Suspect, std::vector<double>>;

void add(const ChangeEvidence& change, Values& values) {
    const auto ms = static_cast<double>(*change.changeoverMs);
    values[Suspect::ofChange(change.change)].push_back(ms);
    for (int finger = 1; finger <= maxValves; ++finger) {
        if (change.change.pressed().has(finger))
            values[{SuspectKind::press, finger, {}, {}, {}}].push_back(ms);
        if (change.change.released().has(finger))
            values[{SuspectKind::release, finger, {}, {}, {}}].push_back(ms);
    }
}

} // namespace

std::vector<Pace> pacesIn(std::span<const TakeEvidence> takes) {
    Values values;
    for (const TakeEvidence& take : takes)
        for (const ChangeEvidence& change : take.changes)
            if (change.changeoverMs && change.change.fingersMoved() > 0)
                add(change, values);
    std::vector<Pace> paces;
    for (const auto& [suspect, measured] : values)
        if (const auto ms = newestMedian(measured))
            paces.push_back({suspect, *ms});
    return paces;
}

} // namespace valveladder
