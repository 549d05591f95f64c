#include "Findings/LastFingers.h"

#include "Base/Units.h"
#include "Findings/Distributions.h"
#include "Findings/Identifiability.h"
#include "Findings/MultipleTests.h"
#include "Listening/Estimates.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace valveladder {

namespace {

struct ToldChange {
    const ChangeEvidence* evidence = nullptr;
    int take = 0;
};

using Told = std::vector<ToldChange>;

bool apart(const ChangeEvidence& evidence) {
    return evidence.lateFingers != Combination();
}

bool downAndUp(const ChangeEvidence& evidence) {
    return evidence.change.pressed() != Combination() && evidence.change.released() != Combination();
}

/// That one of the fingers is among the last, all orders being alike.
double chanceOfLast(const ChangeEvidence& evidence) {
    return static_cast<double>(evidence.lateFingers.count()) / evidence.change.fingersMoved();
}

Told toldFrom(std::span<const TakeEvidence> takes, OrderFrom from) {
    Told told;
    const double newest = takes.empty() ? 0.0 : static_cast<double>(takes.back().facts.startedUtcMs);
    bool heard = from != OrderFrom::sound;
    for (std::size_t t = 0; t < takes.size(); ++t) {
        const auto& changes = takes[t].changes;
        const auto ofKind = [&](const ChangeEvidence& change) { return change.orderFrom == from; };
        heard = heard || std::ranges::any_of(
                             changes, [&](const auto& change) { return ofKind(change) && apart(change); });
        const double days = (newest - static_cast<double>(takes[t].facts.startedUtcMs)) / msPerDay;
        if (!heard || days > lastFingerDays)
            continue;
        for (const auto& change : changes)
            if (ofKind(change))
                told.push_back({&change, static_cast<int>(t)});
    }
    return told;
}

LastFinger counted(const Suspect& suspect, OrderFrom from, const Told& told) {
    LastFinger finger;
    finger.suspect = suspect;
    finger.from = from;
    std::set<int> takes;
    std::vector<double> behind;
    for (const auto& [evidence, take] : told) {
        if (!suspect.involves(*evidence))
            continue;
        ++finger.told;
        takes.insert(take);
        if (!apart(*evidence))
            continue;
        ++finger.apart;
        finger.byChance += chanceOfLast(*evidence);
        if (evidence->lateFingers.has(suspect.finger)) {
            ++finger.last;
            behind.push_back(evidence->lateByMs);
        }
    }
    finger.takes = static_cast<int>(takes.size());
    finger.percent = binomialShare(finger.last, finger.told);
    for (double* share : {&finger.percent.value, &finger.percent.low, &finger.percent.high})
        *share *= 100.0;
    finger.behindMs = medianEstimate(std::move(behind));
    return finger;
}

/// That it came last so often, or oftener, by chance alone; nothing where it never moved in such a change.
std::optional<double> chanceP(const Suspect& suspect, const Told& told, bool inDownAndUp) {
    std::vector<double> chances;
    int last = 0;
    bool moved = false;
    for (const auto& [evidence, take] : told) {
        if (!suspect.involves(*evidence) || downAndUp(*evidence) != inDownAndUp)
            continue;
        moved = true;
        if (!apart(*evidence))
            continue;
        chances.push_back(chanceOfLast(*evidence));
        last += evidence->lateFingers.has(suspect.finger) ? 1 : 0;
    }
    return moved ? std::optional(hitsUpperTail(last, chances)) : std::nullopt;
}

/// That it came last so often, or oftener, if all fingers that go its way did so alike.
double othersP(const Suspect& suspect, const Told& told) {
    int own = 0, ownLast = 0, others = 0, othersLast = 0;
    for (const auto& [evidence, take] : told) {
        if (!downAndUp(*evidence))
            continue;
        if (suspect.involves(*evidence)) {
            ++own;
            ownLast += evidence->lateFingers.has(suspect.finger) ? 1 : 0;
            continue;
        }
        const Combination same =
            suspect.kind == SuspectKind::press ? evidence->change.pressed() : evidence->change.released();
        others += same.count();
        othersLast +=
            Combination(static_cast<std::uint8_t>(same.bits() & evidence->lateFingers.bits())).count();
    }
    return fisherUpperTail(ownLast, own, ownLast + othersLast, own + others);
}

double together(double a, double b) {
    const double product = a * b;
    return product > 0.0 ? std::min(1.0, product * (1.0 - std::log(product))) : 0.0;
}

double chanceOf(const Suspect& suspect, const Told& told) {
    const auto oneWay = chanceP(suspect, told, false);
    auto bothWays = chanceP(suspect, told, true);
    if (bothWays)
        bothWays = std::max(*bothWays, othersP(suspect, told));
    if (oneWay && bothWays)
        return together(*oneWay, *bothWays);
    return oneWay ? *oneWay : bothWays.value_or(1.0);
}

Estimate lastOfApart(const LastFinger& finger) {
    return binomialShare(finger.last, finger.apart);
}

bool ofTimes(const Finding& finding) {
    return finding.complaint == Complaint::slow || finding.complaint == Complaint::late;
}

bool seldomLast(const LastFinger& finger) {
    return finger.apart >= minObservations && lastOfApart(finger).high * finger.apart < finger.byChance;
}

} // namespace

std::vector<LastFinger> lastFingersIn(std::span<const TakeEvidence> takes, const FindingLimits& limits) {
    std::vector<LastFinger> fingers;
    std::vector<double> chances;
    for (const auto from : {OrderFrom::sound, OrderFrom::sensors}) {
        const Told told = toldFrom(takes, from);
        for (const auto& suspect : fingerEffects(maxValves)) {
            auto finger = counted(suspect, from, told);
            if (finger.told == 0)
                continue;
            fingers.push_back(std::move(finger));
            chances.push_back(chanceOf(suspect, told));
        }
    }
    const auto adjusted = holm(chances);
    for (std::size_t i = 0; i < fingers.size(); ++i) {
        fingers[i].p = adjusted[i];
        fingers[i].claimed = adjusted[i] <= limits.alphaLast && fingers[i].last >= limits.leastChanges;
    }
    return fingers;
}

bool disagree(const LastFinger& bySound, const LastFinger& bySensors) {
    if (bySound.suspect != bySensors.suspect || bySound.apart < minObservations ||
        bySensors.apart < minObservations)
        return false;
    const Estimate sound = lastOfApart(bySound);
    const Estimate sensors = lastOfApart(bySensors);
    return sound.high < sensors.low || sensors.high < sound.low;
}

std::vector<Suspect> fingersNamed(const Weaknesses& weaknesses) {
    std::vector<Suspect> named;
    for (const auto& finding : weaknesses.findings)
        if (ofTimes(finding) && finding.suspect.isFinger())
            named.push_back(finding.suspect);
    return named;
}

TimingSays timingSays(const LastFinger& finger, const Weaknesses& weaknesses) {
    const auto named = fingersNamed(weaknesses);
    const bool itself = std::ranges::find(named, finger.suspect) != named.end();
    if (!finger.claimed)
        return itself && seldomLast(finger) ? TimingSays::againstLast : TimingSays::nothing;
    if (itself)
        return TimingSays::same;
    const auto holds = [&](const std::vector<Suspect>& suspects) {
        return std::ranges::find(suspects, finger.suspect) != suspects.end();
    };
    if (std::ranges::any_of(weaknesses.findings, [&](const Finding& finding) {
            return ofTimes(finding) && (holds(finding.rivals) || holds(finding.twins));
        }))
        return TimingSays::couldNotTell;
    const bool sameFinger = std::ranges::any_of(
        named, [&](const Suspect& suspect) { return suspect.finger == finger.suspect.finger; });
    return named.empty() || sameFinger ? TimingSays::nothing : TimingSays::another;
}

} // namespace valveladder
