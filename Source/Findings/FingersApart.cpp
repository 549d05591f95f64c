#include "Findings/FingersApart.h"

#include "Base/RobustStatistics.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace valveladder {

bool cameApart(const ChangeResult& change) {
    return change.lateByMs && *change.lateByMs >= togetherMs;
}

Combination cameLate(const ChangeResult& change) {
    return cameApart(change) ? change.lateFingers : Combination();
}

std::vector<FingersApart> fingersApart(const Performance& performance) {
    struct Times {
        Combination early;
        std::vector<double> ms;
    };
    std::map<std::tuple<Change, Combination>, Times> times;
    std::map<Change, int> measured;
    for (const ChangeResult& change : performance.changes) {
        measured[change.change] += change.changeoverMs ? 1 : 0;
        if (!cameApart(change))
            continue;
        Times& found = times[{change.change, change.lateFingers}];
        found.early = change.earlyFingers();
        found.ms.push_back(*change.lateByMs);
    }
    std::vector<FingersApart> list;
    for (const auto& [key, found] : times) {
        const auto& [change, late] = key;
        list.push_back({change, found.early, late, median(found.ms), static_cast<int>(found.ms.size()),
                        measured[change]});
    }
    std::ranges::stable_sort(list, std::greater{},
                             [](const FingersApart& a) { return a.count * a.medianMs; });
    return list;
}

} // namespace valveladder
