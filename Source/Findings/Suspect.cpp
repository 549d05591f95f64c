#include "Findings/Suspect.h"

#include <algorithm>
#include <set>

namespace valveladder {

namespace {

bool movesFourth(const Change& change) {
    return change.pressed().has(maxValves) || change.released().has(maxValves);
}

/// The alternate, and what it stands for, on either side of a change; the fourth valve is a suspect of its
/// own.
std::vector<Suspect> alternatesIn(const ChangeEvidence& evidence) {
    std::vector<Suspect> found;
    const auto add = [&](Combination played, Combination usual) {
        if (played != usual && played.has(maxValves) == usual.has(maxValves))
            found.push_back({SuspectKind::alternate, 1, {}, played, usual});
    };
    add(evidence.change.from, evidence.usualFrom);
    add(evidence.change.to, evidence.usualTo);
    return found;
}

} // namespace

bool Suspect::involves(const ChangeEvidence& evidence) const {
    switch (kind) {
    case SuspectKind::press:
        return evidence.change.pressed().has(finger);
    case SuspectKind::release:
        return evidence.change.released().has(finger);
    case SuspectKind::change:
        return evidence.change == change;
    case SuspectKind::fourthValve:
        return movesFourth(evidence.change);
    case SuspectKind::alternate:
        return (evidence.change.from == alternate && evidence.usualFrom == usual) ||
               (evidence.change.to == alternate && evidence.usualTo == usual);
    }
    return false;
}

bool Suspect::concerns(const Change& other) const {
    ChangeEvidence evidence;
    evidence.change = other;
    evidence.usualFrom = other.from == alternate ? usual : other.from;
    evidence.usualTo = other.to == alternate ? usual : other.to;
    return involves(evidence);
}

std::vector<Suspect> suspectsIn(const std::vector<ChangeEvidence>& kinds) {
    std::set<Suspect> all;
    for (const auto& evidence : kinds) {
        for (int finger = 1; finger <= maxValves; ++finger) {
            if (evidence.change.pressed().has(finger))
                all.insert({SuspectKind::press, finger, {}, {}, {}});
            if (evidence.change.released().has(finger))
                all.insert({SuspectKind::release, finger, {}, {}, {}});
        }
        if (movesFourth(evidence.change))
            all.insert({SuspectKind::fourthValve, maxValves, {}, {}, {}});
        for (const auto& alternate : alternatesIn(evidence))
            all.insert(alternate);
        if (evidence.change.fingersMoved() > 0) // else it is the lip's alone
            all.insert(Suspect::ofChange(evidence.change));
    }
    std::vector<Suspect> told(all.begin(), all.end());
    const auto says = [&](const Suspect& suspect) {
        const auto involved = std::count_if(kinds.begin(), kinds.end(),
                                            [&](const auto& kind) { return suspect.involves(kind); });
        return involved > 0 && static_cast<std::size_t>(involved) < kinds.size();
    };
    std::erase_if(told, [&](const Suspect& suspect) { return !says(suspect); });
    std::stable_sort(told.begin(), told.end(), [](const Suspect& a, const Suspect& b) {
        return (a.kind == SuspectKind::change) < (b.kind == SuspectKind::change);
    });
    return told;
}

} // namespace valveladder
