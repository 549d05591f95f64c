#include "Words/FindingWords.h"

#include "Base/Sentence.h"
#include "Words/SuspectWords.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

namespace valveladder {

namespace {

std::string interval(const Estimate& estimate, int decimals, const char* of = "") {
    return fmt::format("90 % interval{} {:.{}f} to {:.{}f}", of, estimate.low, decimals, estimate.high,
                       decimals);
}

/// A sentence as part of another one.
std::string lowered(std::string text) {
    if (!text.empty())
        text[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(text[0])));
    return text;
}

/// A tenth of a millisecond is said only where whole ones would hide the figure.
int decimalsFor(const Estimate& estimate) {
    const double width = estimate.high - estimate.low;
    return width < 4.0 ? 1 : 0;
}

std::string evidenceOf(const Finding& finding) {
    return counted(finding.effect.n, "change") + " in " + counted(finding.takes, "take");
}

std::string statement(const Finding& finding, bool thumbValve) {
    const auto& effect = finding.effect;
    const int decimals = finding.complaint == Complaint::wrong ? 1 : decimalsFor(effect);
    const std::string who = asSubject(finding.suspect, thumbValve);
    const std::string sure =
        fmt::format("Sure: {:.{}f} to {:.{}f}", effect.low, decimals, effect.high, decimals);
    switch (finding.complaint) {
    case Complaint::slow:
        return fmt::format("{} {:.{}f} ms slower than the rest. {} ms", who, effect.value, decimals, sure);
    case Complaint::late:
        return fmt::format("{} {:.{}f} ms late. {} ms", who, effect.value, decimals, sure);
    case Complaint::uneven:
        return fmt::format("{} less evenly than the rest: its timing spreads {:.{}f} ms wider. {} ms", who,
                           effect.value, decimals, sure);
    case Complaint::wrong:
        break;
    }
    return fmt::format(
        "{} with more wrong, missed or split notes than the rest: their odds are {:.1f} times as "
        "high. {} times",
        who, effect.value, sure);
}

} // namespace

const char* name(Complaint complaint) {
    switch (complaint) {
    case Complaint::slow:
        return "slow";
    case Complaint::late:
        return "late";
    case Complaint::uneven:
        return "uneven";
    case Complaint::wrong:
        break;
    }
    return "wrong";
}

std::string inWords(const Finding& finding, bool thumbValve) {
    std::string text = fmt::format("{} ({}).", statement(finding, thumbValve), evidenceOf(finding));
    if (!finding.twins.empty())
        text += fmt::format(" Just as likely, as it was always played together: {}.",
                            namesOf(finding.twins, thumbValve));
    if (!finding.rivals.empty())
        text += fmt::format(" Nearly as likely: {}.", namesOf(finding.rivals, thumbValve));
    for (const auto& other : finding.alsoShownBy)
        text += fmt::format(" The same shows here: {} ({}).", lowered(statement(other, thumbValve)),
                            evidenceOf(other));
    return text;
}

std::string inWords(const CarryOver& carryOver, const std::string& rungLabel) {
    std::string text = "Relaxed against firm";
    text += rungLabel.empty() ? " over all takes" : ", " + rungLabel + ", over all takes";
    const char* of = rungLabel.empty() ? "" : " for all rungs together";
    if (carryOver.slowerPercent.n > 0)
        text +=
            fmt::format(": changeovers {:+.0f} % ({}, {})", carryOver.slowerPercent.value,
                        interval(carryOver.slowerPercent, 0, of), counted(carryOver.slowerPercent.n, "pair"));
    if (carryOver.moreUnevenMs.n > 0)
        text +=
            fmt::format("{} spread of intervals {:+.1f} ms ({}, {})",
                        carryOver.slowerPercent.n > 0 ? ";" : ":", carryOver.moreUnevenMs.value,
                        interval(carryOver.moreUnevenMs, 1, of), counted(carryOver.moreUnevenMs.n, "pair"));
    if (carryOver.natural)
        text += carryOver.slowerPercent.n > 0 ? ": as quick and as even relaxed as firm"
                                              : ": as even relaxed as firm";
    return text;
}

std::string inWords(const Tiring& tiring, bool thumbValve) {
    const std::string who = tiring.finger
                                ? inWords(*tiring.finger, thumbValve) + ", against the other fingers"
                                : std::string("the hand as a whole");
    const char* what = tiring.evenness ? "spread of intervals" : "changeovers";
    return sentence(fmt::format("{}: {} {:+.1f} ms for every ten minutes played, {}, over {}", who, what,
                                tiring.perTenMinutes.value, interval(tiring.perTenMinutes, 1),
                                counted(tiring.perTenMinutes.n, "take")));
}

std::string inWords(const Trend& trend, bool thumbValve) {
    const char* unit = trend.complaint == Complaint::wrong ? "percent" : "ms";
    const auto range = [&](const Estimate& estimate) {
        return fmt::format("{:.0f} {} (sure: {:.0f} to {:.0f}, {})", estimate.value, unit, estimate.low,
                           estimate.high, counted(estimate.n, "change"));
    };
    const char* course = trend.resolved                     ? "no longer a problem"
                         : trend.course() == Course::better ? "it is getting better"
                         : trend.course() == Course::worse  ? "it is getting worse"
                                                            : "not sure yet whether better or worse";
    std::string text =
        fmt::format("{}, {}: {}. {:+.1f} {} a week, sure: {:+.1f} to {:+.1f}, over {}",
                    inWords(trend.suspect, thumbValve), name(trend.complaint), course, trend.perWeek.value,
                    unit, trend.perWeek.low, trend.perWeek.high, counted(trend.perWeek.n, "day"));
    if (trend.first.n > 0 && trend.recent.n > 0)
        text += fmt::format("; from {} to {}", range(trend.first), range(trend.recent));
    return sentence(text);
}

std::vector<std::string> inWords(const Weaknesses& weaknesses) {
    if (weaknesses.untimed())
        return {
            fmt::format("changeovers were not measured often enough in all takes so far ({}) to say how "
                        "long your changes last: slurred takes heard as sound, or valve sensors, tell them",
                        counted(weaknesses.changeovers, "time"))};
    if (!weaknesses.enough && weaknesses.least > 0)
        return {fmt::format("not enough data yet: {} played in all takes so far, at least {} are needed",
                            counted(weaknesses.changes, "change"), weaknesses.least)};
    return {};
}

} // namespace valveladder
