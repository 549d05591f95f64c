#include "Findings/Findings.h"

#include "Findings/Beside.h"
#include "Findings/MultipleTests.h"
#include "Findings/Words.h"

#include <algorithm>

namespace valveladder {

namespace {

/// Carry-over and tiring share one small alpha.
void claimTendencies(FindingsReport& report, const FindingLimits& limits, bool thumbValve) {
    std::vector<double> chances;
    std::vector<std::string> words;
    const auto add = [&](double p, bool worse, std::string text) {
        chances.push_back(worse ? p : 1.0);
        words.push_back(std::move(text));
    };
    if (!report.carryOver.empty()) {
        const auto& all = report.carryOver.front();
        const double p = std::min(1.0, 2.0 * std::min(all.slowerPercent.value > 0.0 ? all.pSlower : 1.0,
                                                      all.moreUnevenMs.value > 0.0 ? all.pUneven : 1.0));
        add(p, true, inWords(all));
    }
    for (const auto& one : report.tiring)
        add(one.p, one.perTenMinutes.value > 0.0, inWords(one, thumbValve));
    const auto adjusted = holm(chances);
    for (std::size_t i = 0; i < adjusted.size(); ++i)
        if (adjusted[i] <= limits.alphaTendencies)
            report.tendencies.push_back(words[i]);
    report.claims.insert(report.claims.end(), report.tendencies.begin(), report.tendencies.end());
}

/// What direct evidence says of fingers, and where it and the fits, or sound and sensors, differ.
void claimLastFingers(FindingsReport& report, bool thumbValve) {
    const auto named = fingersNamed(report.weaknesses);
    for (const auto& finger : report.lastFingers) {
        const auto timing = timingSays(finger, report.weaknesses);
        std::string words = finger.claimed ? inWords(finger, thumbValve) : "";
        if (timing != TimingSays::nothing)
            words += (words.empty() ? "" : " ") + inWords(finger, timing, named, thumbValve);
        for (const auto& other : report.lastFingers)
            if (finger.from == OrderFrom::sound && other.from == OrderFrom::sensors &&
                (finger.claimed || other.claimed) && disagree(finger, other))
                words += (words.empty() ? "" : " ") + disagreementInWords(finger, other, thumbValve);
        if (!words.empty())
            report.lastClaims.push_back(std::move(words));
    }
    report.claims.insert(report.claims.end(), report.lastClaims.begin(), report.lastClaims.end());
}

/// What a drill could settle: rivals of findings, else whatever cannot be told apart.
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
    const bool thumb = instrument.thumbValve;
    std::size_t changes = 0;
    for (const auto& take : all)
        changes += take.changes.size();
    const bool tooMany = changes > static_cast<std::size_t>(limits.mostChanges);
    const auto fewer = tooMany ? thinned(all, limits.mostChanges) : std::vector<TakeEvidence>{};
    const std::span<const TakeEvidence> takes = tooMany ? std::span<const TakeEvidence>(fewer) : all;
    report.weaknesses = findWeaknesses(takes, limits);
    if (stop.stop_requested())
        return report;
    auto trends = std::async(launchBeside(takes), [&] { return trendsIn(takes, report.weaknesses, limits); });
    report.identifiability = identifiability(all, instrument.valves, thumb);
    report.lastFingers = lastFingersIn(all, limits);
    report.carryOver = carryOvers(all);
    report.tiring = tiringIn(all);
    report.trends = trends.get();
    if (stop.stop_requested())
        return report;
    report.plan = planAgainstReality(all);
    for (const auto& finding : report.weaknesses.findings)
        report.claims.push_back(inWords(finding, thumb));
    claimLastFingers(report, thumb);
    claimTendencies(report, limits, thumb);
    for (const auto& trend : report.trends)
        report.claims.push_back(inWords(trend, thumb));
    report.remarks = report.weaknesses.remarks;
    report.remarks.insert(report.remarks.end(), report.identifiability.words.begin(),
                          report.identifiability.words.end());
    const auto questions = openQuestions(report);
    if (!questions.empty() || !report.identifiability.complete()) {
        report.settle = drillThatSeparates(all, questions, instrument, usualLimits(instrument, bpm));
        if (report.settle)
            report.remarks.push_back("to tell them apart: " + report.settle->words +
                                     ", each back and forth in one slur");
    }
    return report;
}

} // namespace valveladder
