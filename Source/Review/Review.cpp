#include "Review/Review.h"

#include "Log/LoggedPlan.h"
#include "Tempo/PracticeDay.h"
#include "Words/FindingWords.h"
#include "Words/PlanWords.h"
#include "Words/ReviewWords.h"
#include "Words/TempoWords.h"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <set>
#include <utility>

namespace valveladder {

namespace {

Problem stoppedProblem() {
    return {"the review was stopped", "log", "ask for it again", Problem::Kind::stopped};
}

TakeFilter filterOf(const ReviewRequest& request) {
    TakeFilter filter = playerFilter(request.player, request.instrumentId, request.invented);
    filter.fromUtc = request.fromUtc;
    filter.toUtc = request.toUtc;
    return filter;
}

struct Plan {
    TempoRules rules;
    double bpm = 60.0;
};

/// The plan of the ladder that the next session is made of.
Result<Plan> planOf(const LogStore& log, const ReviewRequest& request, const std::string& drillName) {
    Plan plan;
    auto rules = planRules(log, request.player, request.instrumentId, drillName, request.ladderRules);
    if (!rules)
        return rules.problem();
    plan.rules = std::move(rules.value());
    auto takes = log.planTakes(planFilter(request.player, request.instrumentId, drillName, request.invented));
    if (!takes)
        return takes.problem();
    plan.bpm = request.bpm.value_or(nextTempo(plan.rules, std::move(takes.value()), request.now).bpm);
    return plan;
}

void count(const LoggedEvidence& evidence, Review& review) {
    std::set<std::int64_t> days;
    for (const TakeEvidence& take : evidence.takes) {
        days.insert(take.facts.day);
        review.changes += static_cast<int>(take.changes.size());
    }
    review.takes = static_cast<int>(evidence.takes.size());
    review.days = static_cast<int>(days.size());
    if (!days.empty()) {
        review.firstDay = *days.begin();
        review.lastDay = *days.rbegin();
    }
    if (evidence.unreadable > 0)
        review.remarks.push_back(words::takesLeftOut(evidence.unreadable));
}

/// Rungs are told apart only where all takes are of one drill.
void tellCarryOver(const LoggedEvidence& evidence, Review& review) {
    std::set<std::string> names;
    for (const TakeEvidence& take : evidence.takes)
        names.insert(take.facts.drillName);
    const auto ladder = evidence.drill ? rungs(*evidence.drill) : std::vector<Rung>{};
    for (const CarryOver& one : review.findings.carryOver) {
        if (one.slowerPercent.n == 0 && one.moreUnevenMs.n == 0)
            continue;
        const auto rung = static_cast<std::size_t>(std::max(0, one.rung));
        if (one.rung >= 0 && (names.size() > 1 || rung >= ladder.size()))
            continue;
        review.carryOver.push_back(inWords(one, one.rung < 0 ? "" : "rung " + ladder[rung].label));
    }
}

void putInWords(const LoggedEvidence& evidence, const Instrument& instrument, Review& review) {
    review.words = inWords(review.findings, instrument);
    tellCarryOver(evidence, review);
    for (const Tiring& one : review.findings.tiring)
        if (!one.finger) // single fingers are told only where it is more than chance
            review.tiring.push_back(inWords(one, review.thumbValve));
    for (const PlanDay& day : review.findings.plan.days)
        review.planDays.push_back(inWords(day));
}

void advise(const LoggedEvidence& evidence, const ReviewRequest& request, const Plan& plan,
            const Drill& ladder, const Instrument& instrument, Review& review) {
    SessionRequest wanted;
    wanted.minutes = std::clamp(request.minutes, SessionRequest::leastMinutes, SessionRequest::mostMinutes);
    wanted.bpm = plan.bpm;
    wanted.ladder = ladder;
    // Takes of one name form one plan, and a plan begins at one tempo.
    wanted.name = fmt::format("Session {} at {}", dayName(practiceDay(plan.rules, request.now)),
                              words::tempoText(plan.bpm));
    wanted.restAfterMinutes = request.care.restAfterMinutes;
    wanted.restMinutes = request.care.restMinutes;
    review.next =
        planSession(wanted, instrument, review.findings.weaknesses,
                    review.findings.settle ? review.findings.settle->cells : std::vector<FingeredCell>{});
    CareMoment moment;
    moment.firmWasShown = moment.hearingWasShown = true; // they belong to the start of a sitting
    moment.slowFingers = slowFingers(review.findings.weaknesses);
    moment.minutesPlayed = minutesWithoutRest(evidence.takes, request.now, request.care.restMinutes);
    review.care = inWords(careNow(request.care, moment), request.care);
}

/// The newest take and the one before it that asks for the same; nothing where there is none.
std::optional<Comparison> newestTwo(const LogStore& log, const LoggedEvidence& evidence) {
    if (evidence.takes.size() < 2)
        return std::nullopt;
    const auto& takes = evidence.takes;
    const TakeFacts& newest = takes.back().facts;
    for (auto before = takes.rbegin() + 1; before != takes.rend(); ++before) {
        if (before->facts.drillName != newest.drillName || before->notes == 0)
            continue;
        auto made =
            compareTakes(log, {{"the take before", {before->facts.id}}, {"newest take", {newest.id}}});
        if (made)
            return std::move(made.value());
        return std::nullopt;
    }
    return std::nullopt;
}

/// Who has takes in the log, and on what, the newest first.
Result<std::vector<LogPlayer>> newestFirst(const LogStore& log) {
    auto players = playersIn(log);
    if (players)
        std::ranges::stable_sort(players.value(), std::greater{},
                                 [](const LogPlayer& one) { return one.newest.startedUtc; });
    return players;
}

/// Real takes; where the request takes them too, invented ones alone. The request says then which.
Result<LoggedEvidence> evidenceFor(const LogStore& log, ReviewRequest& request, const std::stop_token& stop,
                                   ReadingProgress* progress) {
    const auto read = [&](bool invented) {
        request.invented = invented;
        return readEvidence(log, filterOf(request), stop, progress);
    };
    if (request.invented || !request.inventedAlone)
        return read(request.invented);
    return realBeforeInvented(read, [](const LoggedEvidence& known) { return known.listed.empty(); });
}

/// Whose takes there are and how many, before anything is worked out. The list moves out of `known`.
Result<Review> begun(const LogStore& log, const ReviewRequest& request, LoggedEvidence& known) {
    Review review;
    review.player = request.player;
    review.instrumentId = request.instrumentId;
    review.invented = request.invented;
    count(known, review);
    review.listed = std::move(known.listed);
    review.paces = pacesIn(known.takes);
    auto everybody = log.players();
    if (!everybody)
        return everybody.problem();
    review.players = std::move(everybody.value());
    if (!review.listed.empty())
        return review;
    auto others = newestFirst(log);
    if (!others)
        return others.problem();
    review.others = std::move(others.value());
    return review;
}

/// As the newest take has it, else the catalogue; nothing where neither does.
std::optional<Instrument> instrumentOf(const LoggedEvidence& known, const ReviewRequest& request) {
    const Instrument* listed = findInstrument(request.instrumentId);
    return known.instrument || listed == nullptr ? known.instrument : *listed;
}

Drill ladderOf(const LoggedEvidence& known, const ReviewRequest& request, const Instrument& instrument) {
    if (request.ladder)
        return *request.ladder;
    return known.ladder ? *known.ladder : defaultDrill(instrument);
}

/// What the takes say, and what is to be played next.
Result<Done> workOut(const LogStore& log, const ReviewRequest& request, const LoggedEvidence& known,
                     const Instrument& instrument, const std::stop_token& stop, Review& review) {
    review.instrumentName = instrument.name;
    review.thumbValve = instrument.thumbValve;
    const Drill ladder = ladderOf(known, request, instrument);
    if (auto valid = checked(ladder, instrument); !valid)
        return valid.problem();
    auto plan = planOf(log, request, ladder.name);
    if (!plan)
        return plan.problem();
    review.rules = plan.value().rules;
    review.findings = findingsIn(known.takes, instrument, plan.value().bpm, {}, stop);
    if (stop.stop_requested())
        return stoppedProblem();
    putInWords(known, instrument, review);
    advise(known, request, plan.value(), ladder, instrument, review);
    review.newestTwo = newestTwo(log, known);
    return Done{};
}

} // namespace

Result<Review> reviewOf(const LogStore& log, const ReviewRequest& asked, const std::stop_token& stop,
                        ReadingProgress* progress) {
    ReviewRequest request = asked;
    auto evidence = evidenceFor(log, request, stop, progress);
    if (!evidence)
        return evidence.problem();
    LoggedEvidence& known = evidence.value();
    if (known.stopped)
        return stoppedProblem();
    auto review = begun(log, request, known);
    if (!review)
        return review;
    const auto instrument = instrumentOf(known, request);
    if (!instrument)
        review.value().remarks.push_back(words::nothingToReview);
    else if (auto done = workOut(log, request, known, *instrument, stop, review.value()); !done)
        return done.problem();
    return review;
}

TempoRules rulesFor(const PracticeSession& next, TempoRules ladder) {
    return withStart(std::move(ladder), next.bpm);
}

} // namespace valveladder
