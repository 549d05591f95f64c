#include "Findings/CarryOver.h"

#include "Findings/Bootstrap.h"
#include "Findings/LineFit.h"

#include <cmath>
#include <optional>

namespace valveladder {

namespace {

struct Pair {
    int rung = 0;
    std::optional<double> logSlower;
    std::optional<double> moreUneven;
};

std::vector<Pair> pairsIn(const TakeEvidence& take) {
    std::vector<Pair> pairs;
    std::map<int, const SegmentEvidence*> firm, relaxed;
    for (const auto& segment : take.segments) {
        if (!segment.even)
            continue;
        if (segment.touch == Touch::firm)
            firm.try_emplace(segment.rung, &segment);
        else
            relaxed[segment.rung] = &segment;
    }
    for (const auto& [rung, before] : firm) {
        const auto found = relaxed.find(rung);
        if (found == relaxed.end())
            continue;
        Pair pair{rung, {}, {}};
        if (before->meanLogChangeover && found->second->meanLogChangeover)
            pair.logSlower = *found->second->meanLogChangeover - *before->meanLogChangeover;
        if (before->ioiSpreadMs && found->second->ioiSpreadMs)
            pair.moreUneven = *found->second->ioiSpreadMs - *before->ioiSpreadMs;
        pairs.push_back(pair);
    }
    return pairs;
}

LineFit meanFit(const std::vector<double>& values) {
    const auto count = static_cast<Eigen::Index>(values.size());
    return leastSquares(Eigen::MatrixXd::Ones(count, 1),
                        Eigen::Map<const Eigen::VectorXd>(values.data(), count));
}

/// `share`: of the intervals.
CarryOver judge(const std::vector<Pair>& pairs, int rung, double share) {
    std::vector<double> slower, uneven;
    for (const auto& pair : pairs) {
        if (rung >= 0 && pair.rung != rung)
            continue;
        if (pair.logSlower)
            slower.push_back(*pair.logSlower);
        if (pair.moreUneven)
            uneven.push_back(*pair.moreUneven);
    }
    CarryOver found;
    found.rung = rung;
    if (static_cast<int>(slower.size()) >= carryOver::leastPairs) {
        const auto mean = meanFit(slower);
        const auto logs = mean.estimate(0, static_cast<int>(slower.size()), share);
        const auto percent = [](double log) { return 100.0 * std::expm1(log); };
        found.slowerPercent = {percent(logs.value), percent(logs.low), percent(logs.high), logs.n};
        found.pSlower = mean.twoSidedP(0);
    }
    if (static_cast<int>(uneven.size()) >= carryOver::leastPairs) {
        const auto mean = meanFit(uneven);
        found.moreUnevenMs = mean.estimate(0, static_cast<int>(uneven.size()), share);
        found.pUneven = mean.twoSidedP(0);
    }
    const bool quick = found.slowerPercent.n == 0 || found.slowerPercent.high < carryOver::marginPercent;
    found.natural = found.moreUnevenMs.n > 0 && quick && found.moreUnevenMs.high < carryOver::marginMs;
    return found;
}

} // namespace

std::vector<CarryOver> carryOvers(std::span<const TakeEvidence> takes) {
    std::vector<Pair> pairs;
    for (const auto& take : takes)
        for (const auto& pair : pairsIn(take))
            pairs.push_back(pair);
    std::vector<CarryOver> found;
    if (static_cast<int>(pairs.size()) < carryOver::leastPairs)
        return found;
    found.push_back(judge(pairs, -1, intervalShare));
    std::map<int, int> counts;
    for (const auto& pair : pairs)
        ++counts[pair.rung];
    // Of several rungs together no more than one in ten may miss (Bonferroni).
    const double share = 1.0 - (1.0 - intervalShare) / static_cast<double>(counts.size());
    for (const auto& [rung, count] : counts)
        if (count >= carryOver::leastPairs)
            found.push_back(judge(pairs, rung, share));
    return found;
}

} // namespace valveladder
