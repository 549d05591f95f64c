#include "Findings/Findings.h"

#include "Findings/Beside.h"
#include "Findings/MultipleTests.h"

#include <algorithm>

namespace valveladder {

namespace {

/// Carry-over and tiring share one small alpha.
void claimTendencies(FindingsReport& report, const FindingLimits& limits) {
    std::vector<double> chances;
    std::vector<bool*> claims;
    const auto add = [&](double p, bool worse, bool& claimed) {
        chances.push_back(worse ? p : 1.0);
        claims.push_back(&claimed);
    };
    if (!report.carryOver.empty()) {
        auto& all = report.carryOver.front();
        const double p = std::min(1.0, 2.0 * std::min(all.slowerPercent.value > 0.0 ? all.pSlower : 1.0,
                                                      all.moreUnevenMs.value > 0.0 ? all.pUneven : 1.0));
        add(p, true, all.claimed);
    }
    for (auto& one : report.tiring)
        add(one.p, one.perTenMinutes.value > 0.0, one.claimed);
    const auto adjusted = holm(chances);
    for (std::size_t i = 0; i < adjusted.size(); ++i)
        *claims[i] = adjusted[i] <= limits.alphaTendencies;
}

/// What a drill is to settle first: findings that have rivals, and these, each once.
std::vector<Suspect> openQuestions(const FindingsReport& report) {
    std::vector<Suspect> questions;
    for (const auto& finding : report.weaknesses.findings)
        if (!finding.rivals.empty()) {
            questions.push_back(finding.suspect);
            questions.insert(questions.end(), finding.rivals.begin(), finding.rivals.end());
        }
    std::sort(questions.begin(), questions.end());
    questions.erase(std::unique(questions.begin(), questions.end()), questions.end());
    return questions;
}

} // namespace

FindingsReport findingsIn(std::span<const TakeEvidence> all, const Instrument& instrument, double bpm,
                          const FindingLimits& limits, const std::stop_token& stop) {
    FindingsReport report;
    const bool tooMany = changeCount(all) > static_cast<std::size_t>(limits.mostChanges);
    const auto fewer = tooMany ? thinned(all, limits.mostChanges) : std::vector<TakeEvidence>{};
    const std::span<const TakeEvidence> takes = tooMany ? std::span<const TakeEvidence>(fewer) : all;
    report.weaknesses = findWeaknesses(takes, limits);
    if (stop.stop_requested())
        return report;
    auto trends = std::async(launchBeside(takes), [&] { return trendsIn(takes, report.weaknesses, limits); });
    report.identifiability = identifiability(all, instrument.valves);
    report.lastFingers = lastFingersIn(all, limits);
    report.carryOver = carryOvers(all);
    report.tiring = tiringIn(all);
    report.trends = trends.get();
    if (stop.stop_requested())
        return report;
    report.plan = planAgainstReality(all);
    claimTendencies(report, limits);
    const auto questions = openQuestions(report);
    if (!questions.empty() || !report.identifiability.complete())
        report.settle = drillThatSeparates(all, questions, instrument, usualLimits(instrument, bpm));
    return report;
}

} // namespace valveladder
