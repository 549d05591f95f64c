#include "Music/OwnChanges.h"

#include "Base/RobustStatistics.h"
#include "Base/Units.h"

#include <algorithm>
#include <set>

namespace valveladder {

namespace {

Change back(const Change& change) {
    return {change.to, change.from};
}

CostBasis basisOf(const Marking& marking, const OwnChanges& own) {
    std::set<Change> changes;
    for (const MarkedNote& note : marking.notes)
        if (note.change.fingersMoved() > 0)
            changes.insert(note.change);
    CostBasis basis;
    basis.changes = static_cast<int>(changes.size());
    basis.own = static_cast<int>(std::ranges::count_if(
        changes, [&own](const Change& change) { return own.medianMs(change).has_value(); }));
    basis.known = own.known();
    basis.logged = own.logged();
    basis.fewest = static_cast<int>(OwnChanges::fewest);
    return basis;
}

} // namespace

void OwnChanges::add(const Performance& take) {
    for (const ChangeResult& change : take.changes) {
        if (change.change.fingersMoved() == 0)
            continue;
        ++loggedChanges;
        if (change.changeoverMs)
            changeovers[change.change].push_back(*change.changeoverMs);
    }
}

std::optional<double> OwnChanges::oneWayMs(const Change& change) const {
    const auto found = changeovers.find(change);
    if (found == changeovers.end() || found->second.size() < fewest)
        return std::nullopt;
    return median(found->second);
}

std::optional<double> OwnChanges::medianMs(const Change& change) const {
    const std::optional<double> own = oneWayMs(change);
    return own ? own : oneWayMs(back(change));
}

int OwnChanges::known() const {
    return static_cast<int>(std::count_if(changeovers.begin(), changeovers.end(),
                                          [](const auto& entry) { return entry.second.size() >= fewest; }));
}

double OwnChanges::scale() const {
    std::vector<double> ratios;
    for (const auto& [change, heard] : changeovers)
        if (heard.size() >= fewest)
            ratios.push_back(median(heard) / msFromFingersMoved(change));
    return ratios.empty() ? 1.0 : median(std::move(ratios));
}

ChangeMs OwnChanges::costs() const {
    std::map<Change, double> own;
    for (const auto& [change, heard] : changeovers)
        for (const Change& way : {change, back(change)})
            if (const std::optional<double> ms = medianMs(way))
                own[way] = *ms;
    return [own = std::move(own), factor = scale()](const Change& change) {
        const auto found = own.find(change);
        return found != own.end() ? found->second : factor * msFromFingersMoved(change);
    };
}

ChangeLimit OwnChanges::limits() const {
    return [copy = *this](const Change& change) -> std::optional<double> {
        const std::optional<double> ms = copy.medianMs(change);
        if (!ms || *ms <= 0.0)
            return std::nullopt;
        return largestShare * msPerSecond / *ms;
    };
}

OwnMarking markByOwn(const Part& part, const Instrument& instrument, const OwnChanges& own,
                     double tempoFactor) {
    OwnMarking marked;
    marked.costs.changeMs = own.costs();
    marked.marking = markPart(part, instrument, marked.costs, tempoFactor);
    marked.spots = rankedSpots(part, marked.marking, instrument, own.limits());
    marked.basis = basisOf(marked.marking, own);
    return marked;
}

} // namespace valveladder
