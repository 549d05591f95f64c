#include "Findings/Weakness.h"

#include "Base/Index.h"
#include "Base/RobustStatistics.h"
#include "Findings/Beside.h"
#include "Findings/Distributions.h"
#include "Findings/EffectFit.h"
#include "Findings/MultipleTests.h"
#include "Findings/SpanCounts.h"
#include "Findings/Spreads.h"
#include "Findings/TimingWeakness.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace valveladder {

namespace {

/// Of FindingLimits::leastMs: what a scatter must be more by to be told.
constexpr double leastUnevenShare = 0.5;

/// In place of no observations, so that their mean is their sum's zero and no NaN.
constexpr double leastCount = 1e-9;

double meanOf(double sum, double count) {
    return sum / std::max(leastCount, count);
}

std::vector<bool> involvedKinds(const ObservationTable& table, const Suspect& suspect) {
    std::vector<bool> involved(table.kinds.size());
    for (std::size_t k = 0; k < involved.size(); ++k)
        involved[k] = suspect.involves(table.kinds[k]);
    return involved;
}

void countInto(Finding& finding, const ObservationTable& table, const std::vector<bool>& involved) {
    std::set<int> takes;
    for (const auto& observation : table.observations)
        if (involved[at(observation.kind)]) {
            ++finding.effect.n;
            takes.insert(observation.take);
        }
    finding.takes = static_cast<int>(takes.size());
}

/// The suspect with the widest deviations; tested on square roots, which are close to normal.
void findUneven(const ObservationTable& table, const FindingLimits& limits, std::uint64_t seed,
                Weaknesses& result) {
    if (static_cast<int>(table.observations.size()) < limits.leastObservations)
        return;
    const auto sizes = sizesAboutOwnMedian(table);
    ObservationTable roots = table;
    for (std::size_t i = 0; i < sizes.size(); ++i)
        roots.observations[i].y = std::sqrt(sizes[i]);
    FindingLimits anySize = limits;
    anySize.leastMs = 0.0;
    anySize.mostFindings = 1;
    auto search = timingWeaknesses(roots, Complaint::uneven, limits.alphaUneven, anySize, seed);
    for (auto& finding : search.claimed) {
        const auto involved = involvedKinds(table, finding.suspect);
        const auto difference = [](const Contrast& sums) {
            return meanSizeToSigma *
                   (meanOf(sums.with, sums.countWith) - meanOf(sums.without, sums.countWithout));
        };
        finding.effect = contrastInterval(contrasts(table, sizes, involved), difference, seed);
        countInto(finding, table, involved);
        Contrast all;
        for (const auto& cluster : contrasts(table, sizes, involved))
            all += cluster;
        finding.others = meanOf(meanSizeToSigma * all.without, all.countWithout);
        finding.claimed =
            finding.effect.low > 0.0 && finding.effect.value >= limits.leastMs * leastUnevenShare;
        (finding.claimed ? result.findings : result.leads).push_back(finding);
    }
    for (auto& lead : search.leads)
        result.leads.push_back(lead);
}

struct ErrorCounts {
    int with = 0, errorsWith = 0, all = 0, errors = 0;
};

ErrorCounts errorCounts(const ObservationTable& table, const std::vector<bool>& involved) {
    ErrorCounts counts;
    for (const auto& observation : table.observations) {
        const int error = observation.y > 0.5 ? 1 : 0;
        const int with = involved[at(observation.kind)] ? 1 : 0;
        counts.with += with;
        counts.errorsWith += with * error;
        counts.errors += error;
        ++counts.all;
    }
    return counts;
}

/// Ratio of odds, with half an error added everywhere (Haldane 1956), so that none is infinite.
double oddsRatio(const Contrast& sums) {
    const double with = (sums.with + 0.5) / (sums.countWith - sums.with + 0.5);
    const double without = (sums.without + 0.5) / (sums.countWithout - sums.without + 0.5);
    return with / without;
}

/// Suspects with more errors than chance gives, by Fisher's exact test, Holm-corrected.
void findWrong(const ObservationTable& table, const FindingLimits& limits, std::uint64_t seed,
               Weaknesses& result) {
    const auto suspects = suspectsIn(table.kinds);
    std::vector<double> chances;
    std::vector<ErrorCounts> counts;
    for (const auto& suspect : suspects) {
        counts.push_back(errorCounts(table, involvedKinds(table, suspect)));
        const auto& c = counts.back();
        chances.push_back(fisherUpperTail(c.errorsWith, c.with, c.errors, c.all));
    }
    const auto adjusted = holm(chances);
    const auto best = std::min_element(adjusted.begin(), adjusted.end());
    if (best == adjusted.end() || *std::min_element(chances.begin(), chances.end()) >= 1.0)
        return;
    const auto leading =
        static_cast<std::size_t>(std::min_element(chances.begin(), chances.end()) - chances.begin());
    Finding finding;
    finding.complaint = Complaint::wrong;
    finding.suspect = suspects[leading];
    finding.p = adjusted[leading];
    const std::vector<double> errors = measuresOf(table);
    const auto involved = involvedKinds(table, finding.suspect);
    finding.effect = contrastInterval(contrasts(table, errors, involved), oddsRatio, seed);
    countInto(finding, table, involved);
    const auto& c = counts[leading];
    finding.others = c.all > c.with ? static_cast<double>(c.errors - c.errorsWith) / (c.all - c.with) : 0.0;
    for (std::size_t s = 0; s < suspects.size(); ++s)
        if (s != leading && chances[s] < limits.rivalOdds * chances[leading])
            finding.rivals.push_back(suspects[s]);
    finding.claimed = finding.p <= limits.alphaWrong && finding.effect.low > 1.0;
    (finding.claimed ? result.findings : result.leads).push_back(finding);
}

int measuredChangeovers(std::span<const TakeEvidence> takes) {
    int measured = 0;
    for (const auto& take : takes)
        for (const auto& change : take.changes)
            measured += change.changeoverMs ? 1 : 0;
    return measured;
}

/// One change whose fingers are those of a finding: what shows it may be the same cause.
bool isPartOf(const Finding& finding, const Finding& whole) {
    return finding.suspect.kind == SuspectKind::change && whole.suspect.concerns(finding.suspect.change);
}

/// Adds a finding, or puts it beneath the one that already names its cause by another measure.
void add(Finding finding, std::vector<Finding>& findings) {
    const auto same = std::ranges::find_if(findings, [&](const Finding& known) {
        return known.complaint != finding.complaint &&
               (known.suspect == finding.suspect || isPartOf(finding, known));
    });
    if (same == findings.end())
        findings.push_back(std::move(finding));
    else
        same->alsoShownBy.push_back(std::move(finding));
}

void take(TimingResult&& found, Weaknesses& result) {
    for (auto& finding : found.claimed)
        add(std::move(finding), result.findings);
    for (auto& lead : found.leads)
        result.leads.push_back(std::move(lead));
}

} // namespace

std::vector<TakeEvidence> thinned(std::span<const TakeEvidence> takes, int mostChanges) {
    const std::size_t step = 1 + changeCount(takes) / static_cast<std::size_t>(std::max(1, mostChanges));
    std::vector<TakeEvidence> kept;
    for (std::size_t t = (takes.size() + step - 1) % step; t < takes.size(); t += step)
        kept.push_back(takes[t]);
    return kept;
}

Weaknesses findWeaknesses(std::span<const TakeEvidence> takes, const FindingLimits& limits,
                          std::uint64_t seed) {
    Weaknesses result;
    for (const auto& evidence : takes) {
        result.changes += static_cast<int>(evidence.changes.size());
        result.takes += evidence.changes.empty() ? 0 : 1;
    }
    result.least = limits.leastObservations;
    if (result.changes < result.least)
        return result;
    result.enough = true;
    result.changeovers = measuredChangeovers(takes);
    auto slow = std::async(launchBeside(takes), [&] {
        return timingWeaknesses(observe(takes, Complaint::slow), Complaint::slow, limits.alphaSlow, limits,
                                seed);
    });
    const auto deviations = observe(takes, Complaint::late);
    auto late = timingWeaknesses(deviations, Complaint::late,
                                 result.untimed() ? limits.alphaSlow : limits.alphaLate, limits, seed + 1);
    Weaknesses others;
    findUneven(deviations, limits, seed + 2, others);
    findWrong(observe(takes, Complaint::wrong), limits, seed + 3, others);
    take(slow.get(), result);
    take(std::move(late), result);
    take({std::move(others.findings), std::move(others.leads)}, result);
    return result;
}

} // namespace valveladder
