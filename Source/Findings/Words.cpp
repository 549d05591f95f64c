#include "Findings/Words.h"

#include "Base/Sentence.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

namespace valveladder {

namespace {

std::string plural(int count, const char* what) {
    return fmt::format("{} {}{}", count, what, count == 1 ? "" : "s");
}

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

/// "Your third finger goes down", the beginning of a sentence that "25 ms late" ends.
std::string actor(const Suspect& suspect, bool thumbValve) {
    const bool thumb = thumbValve && suspect.finger == maxValves;
    constexpr const char* ordinals[] = {"first", "second", "third", "fourth-valve"};
    const std::string finger =
        thumb ? "thumb" : fmt::format("{} finger", ordinals[std::clamp(suspect.finger, 1, maxValves) - 1]);
    switch (suspect.kind) {
    case SuspectKind::press:
        return fmt::format("Your {} goes down", finger);
    case SuspectKind::release:
        return fmt::format("Your {} comes up", finger);
    case SuspectKind::change:
        return fmt::format("Your change {} comes", suspect.name(thumbValve));
    case SuspectKind::fourthValve:
        return thumbValve ? "Your changes with the thumb valve come"
                          : "Your changes with the fourth valve come";
    case SuspectKind::alternate:
        break;
    }
    return fmt::format("Your changes with {} come", suspect.name(thumbValve));
}

std::string statement(const Finding& finding, bool thumbValve) {
    const auto& effect = finding.effect;
    const int decimals = finding.complaint == Complaint::wrong ? 1 : decimalsFor(effect);
    const std::string who = actor(finding.suspect, thumbValve);
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

std::string names(const std::vector<Suspect>& suspects, bool thumbValve) {
    std::string text;
    for (const auto& suspect : suspects)
        text += (text.empty() ? "" : ", ") + suspect.name(thumbValve);
    return text;
}

const char* teller(OrderFrom from) {
    return from == OrderFrom::sensors ? "the valve sensors tell" : "what sounds between the notes tells";
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
    std::string text = fmt::format("{} ({} in {}).", statement(finding, thumbValve),
                                   plural(finding.effect.n, "change"), plural(finding.takes, "take"));
    if (!finding.twins.empty())
        text += fmt::format(" Just as likely, as it was always played together: {}.",
                            names(finding.twins, thumbValve));
    if (!finding.rivals.empty())
        text += fmt::format(" Nearly as likely: {}.", names(finding.rivals, thumbValve));
    for (const auto& other : finding.alsoShownBy)
        text += fmt::format(" The same shows here: {} ({}).", lowered(statement(other, thumbValve)),
                            plural(other.effect.n, "change"));
    return text;
}

std::string inWords(const CarryOver& carryOver, const std::string& rungLabel) {
    std::string text = rungLabel.empty() ? "Relaxed against firm" : "Relaxed against firm, " + rungLabel;
    const char* of = rungLabel.empty() ? "" : " for all rungs together";
    if (carryOver.slowerPercent.n > 0)
        text +=
            fmt::format(": changeovers {:+.0f} % ({}, {})", carryOver.slowerPercent.value,
                        interval(carryOver.slowerPercent, 0, of), plural(carryOver.slowerPercent.n, "pair"));
    if (carryOver.moreUnevenMs.n > 0)
        text +=
            fmt::format("{} spread of intervals {:+.1f} ms ({}, {})",
                        carryOver.slowerPercent.n > 0 ? ";" : ":", carryOver.moreUnevenMs.value,
                        interval(carryOver.moreUnevenMs, 1, of), plural(carryOver.moreUnevenMs.n, "pair"));
    if (carryOver.natural)
        text += carryOver.slowerPercent.n > 0 ? ": as quick and as even relaxed as firm"
                                              : ": as even relaxed as firm";
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
    const char* unit = trend.complaint == Complaint::wrong ? "percent" : "ms";
    const auto range = [&](const Estimate& estimate) {
        return fmt::format("{:.0f} {} (sure: {:.0f} to {:.0f}, {})", estimate.value, unit, estimate.low,
                           estimate.high, plural(estimate.n, "change"));
    };
    std::string text = fmt::format("{}, {}: ", trend.suspect.name(thumbValve), name(trend.complaint));
    const bool known = trend.first.n > 0 && trend.recent.n > 0;
    if (trend.resolved)
        text += "no longer a problem";
    else
        text += trend.course() == Course::better  ? "it is getting better"
                : trend.course() == Course::worse ? "it is getting worse"
                                                  : "no change that could not be chance";
    text += fmt::format(", {:+.1f} {} a week, sure: {:+.1f} to {:+.1f}, {}", trend.perWeek.value, unit,
                        trend.perWeek.low, trend.perWeek.high, plural(trend.perWeek.n, "day"));
    if (known)
        text += fmt::format("; from {} to {}", range(trend.first), range(trend.recent));
    return sentence(text);
}

std::string inWords(const LastFinger& finger, bool thumbValve) {
    const Estimate& share = finger.percent;
    std::string text = fmt::format(
        "{} last in {:.0f} % of your changes of two valves or more, as {}. Sure: {:.0f} to {:.0f} % ({} in "
        "{}). Chance alone makes it {:.0f} of the {} in which fingers came apart; it was {}.",
        actor(finger.suspect, thumbValve), share.value, teller(finger.from), share.low, share.high,
        plural(finger.told, "change"), plural(finger.takes, "take"), finger.byChance, finger.apart,
        finger.last);
    if (finger.behindMs)
        text += fmt::format(" When it is last, it is {:.0f} ms behind. Sure: {:.0f} to {:.0f} ms.",
                            finger.behindMs->value, finger.behindMs->low, finger.behindMs->high);
    return text;
}

std::string inWords(const LastFinger& finger, TimingSays timing, const std::vector<Suspect>& named,
                    bool thumbValve) {
    switch (timing) {
    case TimingSays::nothing:
        break;
    case TimingSays::same:
        return "The times of all your changes point to the same finger.";
    case TimingSays::couldNotTell:
        return fmt::format("The times of all your changes could not tell it from {}; this does.",
                           named.empty() ? std::string("others") : names(named, thumbValve));
    case TimingSays::another:
        return fmt::format("The times of all your changes point elsewhere, to {}: both are told here, more "
                           "takes will show which is right.",
                           names(named, thumbValve));
    case TimingSays::againstLast:
        return fmt::format("By the times of all your changes {} is slow or late, but as {}, it came last in "
                           "{} of the {} changes in which fingers came apart, where chance makes it {:.0f}: "
                           "both are told here, more takes will show which is right.",
                           finger.suspect.name(thumbValve), teller(finger.from), finger.last, finger.apart,
                           finger.byChance);
    }
    return "";
}

std::string disagreementInWords(const LastFinger& bySound, const LastFinger& bySensors, bool thumbValve) {
    return fmt::format(
        "Sound and valve sensors disagree on {}: where fingers came apart it was last in {} of "
        "{} changes by sound, in {} of {} by the sensors.",
        bySound.suspect.name(thumbValve), bySound.last, bySound.apart, bySensors.last, bySensors.apart);
}

} // namespace valveladder
