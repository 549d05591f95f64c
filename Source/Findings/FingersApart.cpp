#include "Findings/FingersApart.h"

#include "Base/RobustStatistics.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace valveladder {

bool cameApart(const ChangeResult& change) {
    return change.lateByMs && *change.lateByMs >= togetherMs;
}

std::vector<FingersApart> fingersApart(const Performance& performance) {
    std::map<std::tuple<Change, Combination>, std::vector<double>> times;
    std::map<Change, int> measured;
    for (const ChangeResult& change : performance.changes) {
        measured[change.change] += change.changeoverMs ? 1 : 0;
        if (cameApart(change))
            times[{change.change, change.lateFingers}].push_back(*change.lateByMs);
    }
    std::vector<FingersApart> list;
    for (const auto& [key, ms] : times) {
        const auto& [change, late] = key;
        const unsigned moved = change.pressed().bits() | change.released().bits();
        list.push_back({change, Combination(static_cast<std::uint8_t>(moved & ~late.bits())), late,
                        median(ms), static_cast<int>(ms.size()), measured[change]});
    }
    std::ranges::stable_sort(list, std::greater{},
                             [](const FingersApart& a) { return a.count * a.medianMs; });
    return list;
}

} // namespace valveladder
