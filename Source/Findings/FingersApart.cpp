#include "Findings/FingersApart.h"

#include "Base/RobustStatistics.h"

#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <tuple>

namespace valveladder {

namespace {

std::string named(Combination fingers, bool thumbValve) {
    std::string name;
    for (int valve = 1; valve <= maxValves; ++valve)
        if (fingers.has(valve))
            name += (name.empty() ? "" : "-") +
                    (thumbValve && valve == maxValves ? std::string("T") : std::to_string(valve));
    return name.empty() ? "0" : name;
}

std::string order(Combination early, Combination late, double ms, bool thumbValve) {
    return fmt::format("{} after {} by {:.0f} ms", named(late, thumbValve), named(early, thumbValve), ms);
}

bool apart(const ChangeResult& change) {
    return change.lateByMs && *change.lateByMs >= togetherMs;
}

} // namespace

std::vector<FingersApart> fingersApart(const Performance& performance) {
    std::map<std::tuple<Change, Combination>, std::vector<double>> times;
    std::map<Change, int> measured;
    for (const ChangeResult& change : performance.changes) {
        measured[change.change] += change.changeoverMs ? 1 : 0;
        if (apart(change))
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

std::string fingersApartInWords(const ChangeResult& change, bool thumbValve) {
    return apart(change) ? order(change.earlyFingers(), change.lateFingers, *change.lateByMs, thumbValve)
                         : std::string();
}

std::string inWords(const FingersApart& apart, bool thumbValve) {
    return fmt::format(
        "{} in {} to {} ({} of {})", order(apart.early, apart.late, apart.medianMs, thumbValve),
        named(apart.change.from, thumbValve), named(apart.change.to, thumbValve), apart.count, apart.of);
}

} // namespace valveladder
