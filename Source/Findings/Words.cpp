#include "Findings/Words.h"

#include "Base/Sentence.h"

#include <fmt/format.h>

namespace valveladder {

namespace {

std::string plural(int count, const char* what) {
    return fmt::format("{} {}{}", count, what, count == 1 ? "" : "s");
}

std::string interval(const Estimate& estimate, int decimals) {
    return fmt::format("90 % interval {:.{}f} to {:.{}f}", estimate.low, decimals, estimate.high, decimals);
}

/// A tenth of a millisecond is said only where whole ones would hide the figure.
int decimalsFor(const Estimate& estimate) {
    const double width = estimate.high - estimate.low;
    return width < 4.0 ? 1 : 0;
}

std::string figure(const Finding& finding) {
    const auto& effect = finding.effect;
    const int decimals = finding.complaint == Complaint::wrong ? 1 : decimalsFor(effect);
    switch (finding.complaint) {
    case Complaint::slow:
        return fmt::format("{:.{}f} ms slower than your other changes", effect.value, decimals);
    case Complaint::late:
        return fmt::format("{:.{}f} ms later than your other notes", effect.value, decimals);
    case Complaint::uneven:
        return fmt::format("timing spreads {:.{}f} ms wider than in your other changes", effect.value,
                           decimals);
    case Complaint::wrong:
        break;
    }
    return fmt::format("odds of a wrong, missed or split note {:.1f} times those of your other changes",
                       effect.value);
}

std::string rivalWords(const Finding& finding, bool thumbValve) {
    if (finding.rivals.empty())
        return "";
    std::string text;
    for (const auto& rival : finding.rivals)
        text += (text.empty() ? "" : ", ") + rival.name(thumbValve);
    return "; what was played fits nearly as well with: " + text;
}

} // namespace

std::string inWords(const Finding& finding, bool thumbValve) {
    const int decimals = finding.complaint == Complaint::wrong ? 1 : decimalsFor(finding.effect);
    return sentence(fmt::format("{}: {}, {}, {} in {}{}", finding.suspect.name(thumbValve), figure(finding),
                                interval(finding.effect, decimals), plural(finding.effect.n, "change"),
                                plural(finding.takes, "take"), rivalWords(finding, thumbValve)));
}

std::string inWords(const CarryOver& carryOver, const std::string& rungLabel) {
    std::string text = rungLabel.empty() ? "Relaxed against firm" : "Relaxed against firm, " + rungLabel;
    if (carryOver.slowerPercent.n > 0)
        text += fmt::format(": changeovers {:+.0f} % ({}, {})", carryOver.slowerPercent.value,
                            interval(carryOver.slowerPercent, 0), plural(carryOver.slowerPercent.n, "pair"));
    if (carryOver.moreUnevenMs.n > 0)
        text += fmt::format("{} spread of intervals {:+.1f} ms ({}, {})",
                            carryOver.slowerPercent.n > 0 ? ";" : ":", carryOver.moreUnevenMs.value,
                            interval(carryOver.moreUnevenMs, 1), plural(carryOver.moreUnevenMs.n, "pair"));
    if (carryOver.natural)
        text += ": as quick and as even relaxed as firm";
    return text;
}

std::string inWords(const Tiring& tiring, bool thumbValve) {
    const std::string who = tiring.finger ? tiring.finger->name(thumbValve) + ", against the other fingers"
                                          : std::string("the hand as a whole");
    const char* what = tiring.evenness ? "spread of intervals" : "changeovers";
    return sentence(fmt::format("{}: {} {:+.1f} ms for every ten minutes played, {}, {}", who, what,
                                tiring.perTenMinutes.value, interval(tiring.perTenMinutes, 1),
                                plural(tiring.perTenMinutes.n, "take")));
}

std::string inWords(const Trend& trend, bool thumbValve) {
    std::string text =
        fmt::format("{}: {:+.1f} ms a week, {}, {}", trend.suspect.name(thumbValve), trend.perWeekMs.value,
                    interval(trend.perWeekMs, 1), plural(trend.perWeekMs.n, "day"));
    if (trend.first.n > 0 && trend.recent.n > 0)
        text += fmt::format("; from {:.0f} ms ({}, {}) to {:.0f} ms ({}, {})", trend.first.value,
                            interval(trend.first, 0), plural(trend.first.n, "change"), trend.recent.value,
                            interval(trend.recent, 0), plural(trend.recent.n, "change"));
    if (trend.resolved)
        text += ": no longer a problem";
    else if (trend.perWeekMs.low <= 0.0 && trend.perWeekMs.high >= 0.0)
        text += ": no change beyond chance";
    return sentence(text);
}

} // namespace valveladder
